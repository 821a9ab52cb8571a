import { describe, expect, it } from "vitest";
import { packed } from "../../lib/document/html/packed.js";
import { comparePage } from "../../lib/review/compare-page.js";
import { textDifference } from "../../lib/review/compare-texts.js";
import { isSameNumber, valueDifferences } from "../../lib/review/compare-values.js";
import { secondBlocks } from "../../lib/review/second-blocks.js";

describe("values", () => {
  const was = { blocks: [{ to_m: 100, class: "A" }], q: null, none: [] };

  it("agree within a share of the greater, and only so", () => {
    expect(isSameNumber(1000, 1000.0009, 1e-6)).toBe(true);
    expect(isSameNumber(1000, 1000.0011, 1e-6)).toBe(false);
    expect(isSameNumber(0, 1e-30, 1e-6)).toBe(false);
    expect(isSameNumber(Number.NaN, 1, 1e-6)).toBe(false);
    expect(isSameNumber(5, -5, 1e-6)).toBe(false);
  });

  it("are named by their path, with the old and the new", () => {
    const is = { blocks: [{ to_m: 140, class: "B" }], q: 0.1, none: [], more: 1 };
    expect(valueDifferences(was, is, 1e-6)).toEqual([
      { path: "blocks[0].to_m", was: 100, is: 140 },
      { path: "blocks[0].class", was: "A", is: "B" },
      { path: "q", was: null, is: 0.1 },
      { path: "more", was: null, is: 1 },
    ]);
    expect(valueDifferences(was, structuredClone(was), 0)).toEqual([]);
  });

  it("of lists of two lengths are one difference", () => {
    expect(valueDifferences({ blocks: [1, 2] }, { blocks: [2] }, 0)).toEqual([
      { path: "blocks", was: "2 entries", is: "1 entries" },
    ]);
  });
});

describe("texts", () => {
  it("agree where only the last digits of numbers differ", () => {
    expect(textDifference("at 1.0000001 m", "at 1.0000002 m", 1e-6)).toBeNull();
    expect(textDifference("at 1.0000001 m", "at 1.0000002 m", 0)).not.toBeNull();
    expect(textDifference("v1.2.3", "v1.2.4", 1e-6)).not.toBeNull();
  });

  it("are shown about the first difference", () => {
    expect(textDifference("clay to 30 m", "clay to 31 m", 1e-6)).toEqual({
      was: "clay to 30 m",
      is: "clay to 31 m",
    });
    expect(textDifference("a 1", "a 1 and more", 1e-6)).toEqual({ was: "a 1", is: "a 1 and more" });
    expect(textDifference("sand", "silt", 0)).toEqual({ was: "sand", is: "silt" });
    const [long, other] = [`${"x".repeat(500)}A`, `${"x".repeat(500)}B`];
    expect(textDifference(long, other, 0)?.was).toHaveLength(31);
  });

  it("with a sign altered differ", () => {
    expect(textDifference("at -5 m", "at 5 m", 1e-6)).not.toBeNull();
  });
});

describe("pages", () => {
  const figure = (number: number, value: number, drawing = `<path d="M${value}"/>`) =>
    `<figure id="figure-${number}" data-spec="figure-${number}-data">\n<div class="drawing">` +
    `<svg>${drawing}</svg></div>\n<figcaption>F</figcaption>\n` +
    `<script type="application/octet-stream" id="figure-${number}-data">` +
    `${packed(`{"data":[${value}],"usermeta":{"banquette":{"id":"f${number}"}}}`)}</script></figure>`;
  const page = (...parts: readonly string[]) => `<main>${parts.join("<p>words</p>")}</main>`;
  const options = { tolerance: 1e-6, file: "appendix.html" };

  it("name a figure by its data, once, and nothing beside it", () => {
    const was = page(figure(1, 5), figure(2, 6));
    const is = page(figure(1, 5), figure(2, 7));
    const { figures, files } = comparePage([was, is], options);
    expect(figures).toMatchObject([{ figure: "f2", values: [{ path: "data[0]", was: 6, is: 7 }] }]);
    expect(files).toEqual([]);
  });

  it("tell of words, and of a drawing that does not follow from its data", () => {
    const was = page(figure(1, 5));
    expect(comparePage([was.replace(">F<", ">G<"), was], options).files).toHaveLength(1);
    const redrawn = page(figure(1, 5, '<path d="M1"/>'));
    expect(comparePage([redrawn, was], options).files).toMatchObject([{ name: "appendix.html" }]);
  });
});

describe("what a page says of where it comes from", () => {
  it("is left to the file of provenance", () => {
    const page = (version: string, words = "") =>
      `<main>${words}<section class="words annex"><h2 id="provenance">P</h2>${version}</section></main>`;
    const options = { tolerance: 1e-6, file: "appendix.html" };
    expect(comparePage([page("1"), page("2")], options).files).toEqual([]);
    expect(comparePage([page("1", "a"), page("2", "b")], options).files).toHaveLength(1);
  });
});

describe("a second interpreter's blocks", () => {
  it("are read by chainage, with spaces and empty lines", () => {
    expect(secondBlocks("from_m, to_m ,class\n\n50,90,B\n0,50, A\n")).toEqual([
      { from_m: 0, to_m: 50, class: "A" },
      { from_m: 50, to_m: 90, class: "B" },
    ]);
  });

  it("are refused by row", () => {
    expect(() => secondBlocks("from_m,to_m,class\n0,10,A\n10,,B\n")).toThrow(
      "row 3: from_m must be a number below to_m, got 10 and ",
    );
    expect(() => secondBlocks("from_m,class\n0,A\n")).toThrow("must have the columns to_m");
  });
});
