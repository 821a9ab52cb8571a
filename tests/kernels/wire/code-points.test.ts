import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { codePointCount, utf16Index } from "../../../kernels/wire/code-points.js";
import { jsonText } from "../../../kernels/wire/json-text.js";
import { nameAskedAbout } from "../../../kernels/wire/pager.js";

describe("positions in code points", () => {
  it("count a character beyond 16 bits once", () => {
    expect(utf16Index("🌊a", 1)).toBe(2);
    expect(codePointCount("🌊a", 2)).toBe(1);
    expect(utf16Index("ab", 9)).toBe(2);
  });

  it("come back the same", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.nat(), (text, at) => {
        const position = Math.min(at, [...text].length);
        expect(codePointCount(text, utf16Index(text, position))).toBe(position);
      }),
    );
  });
});

describe("a cell that asks about a name", () => {
  it.each([
    ["Math.hypot?", "Math.hypot"],
    ["?estimateDepthSlices", "estimateDepthSlices"],
    ["  survey?? ", "survey"],
    ["a ? b : c", null],
    ["x", null],
    ["?", null],
  ])("%j", (code, name) => {
    expect(nameAskedAbout(code)).toBe(name);
  });
});

describe("content as JSON", () => {
  it("writes bigint as text and says so where a value cannot be written", () => {
    expect(jsonText({ n: 2n ** 60n })).toBe('{"n":"1152921504606846976"}');
    const circle: Record<string, unknown> = {};
    circle.self = circle;
    const text = jsonText({ data: { "application/json": circle }, metadata: {} });
    expect(JSON.parse(text)).toMatchObject({
      data: { "text/plain": expect.stringContaining("cannot be sent as JSON") },
    });
  });
});
