import { describe, expect, it } from "vitest";
import { escapeHtml, numberText, tableHtml, valueText } from "../../../lib/step/show/html.js";

describe("numberText", () => {
  it.each([
    [1234567.891, 1, "1,234,567.9"],
    [-0.04, 1, "0.0"],
    [-12.5, 1, "−12.5"],
    [999, 0, "999"],
    [0.000123456789, undefined, "0.000123457"],
    [1.5e-9, undefined, "1.5e−9"],
    [Number.NaN, 2, "–"],
    [Number.POSITIVE_INFINITY, 2, "∞"],
  ])("writes %s with %s digits as %s", (value, digits, text) => {
    expect(numberText(value, digits)).toBe(text);
  });
});

describe("valueText", () => {
  it.each([
    [[1, 2, 3], "1, 2, 3"],
    [[], "none"],
    [new Float64Array([0.1, 2]), "0.1, 2"],
    [{ a: 1, b: ["x"] }, "a: 1; b: x"],
    [null, "null"],
    [true, "true"],
    [2031, "2031"],
    [
      Array.from({ length: 20 }, (_, i) => i),
      "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, … (20 in all)",
    ],
  ])("writes %j", (value, text) => {
    expect(valueText(value)).toBe(text);
  });
});

describe("tableHtml", () => {
  it("says none for a table without rows", () => {
    const columns = [{ field: "a", label: "A <m>" }];
    const html = tableHtml({ id: "t", caption: "Empty", columns, rows: [] });
    expect(html).toContain(`<td colspan="1">none</td>`);
    expect(html).toContain("A &lt;m&gt;");
  });
});

describe("escapeHtml", () => {
  it("leaves nothing that could open a tag or close an attribute", () => {
    expect(escapeHtml(`<a href="x" b='y'>&`)).toBe(
      "&lt;a href=&quot;x&quot; b=&#39;y&#39;&gt;&amp;",
    );
  });
});
