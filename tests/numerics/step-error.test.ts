import { describe, expect, it } from "vitest";
import { quoted, StepError } from "../../lib/numerics/step-error.js";

describe("quoted", () => {
  it.each([
    ["a\nb", '"a\\nb"'],
    [Number.NaN, "NaN"],
    [undefined, "undefined"],
    [[1, Number.NaN, "x"], '[1, NaN, "x"]'],
    [[], "[]"],
    [{ low: 1, high: [2, null] }, "{ low: 1, high: [2, null] }"],
    [new Float64Array([1, 2]), "1,2"],
    ["x".repeat(70), `"${"x".repeat(56)}…`],
  ])("writes %j as %s", (value, text) => {
    expect(quoted(value)).toBe(text);
  });

  it("comes to an end on a value that holds itself", () => {
    const ring: unknown[] = [];
    ring.push(ring);
    expect(quoted(ring)).toBe("[[]]");
  });
});

describe("StepError", () => {
  it("has a line a fault, the hint in brackets", () => {
    const error = new StepError("walk", [
      { code: "a", path: "pace", expected: "a number", received: "1" },
      { code: "b", path: "from", expected: "a word", received: "2", hint: "a place?" },
    ]);
    expect(error.message).toBe(
      "walk: pace must be a number, got 1\nwalk: from must be a word, got 2 (a place?)",
    );
    expect(error.faults.map(({ code }) => code)).toEqual(["a", "b"]);
  });
});
