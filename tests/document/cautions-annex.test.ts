import { describe, expect, it } from "vitest";
import { cautionsAnnex, cautionsPointer } from "../../lib/document/cautions-annex.js";

const caution = (section: string, html: string, id = "c1") => ({ id, section, html });
const gaps = [
  caution("1 The survey", "2031-10, a.csv: 41 readings lie in 2 gaps."),
  caution("1 The survey", "2031-10, b.csv: 39 readings lie in 2 gaps."),
  caution("1 The survey", "2032-03, a.csv: 38 readings lie in 3 gaps."),
];
const others = [
  caution("3 Metal", "Look <b>there</b>.", "c2"),
  caution("3 Metal", "Look <b>there</b>.", "c3"),
];

describe("the annex of cautions", () => {
  it("holds each once, by section, those of one kind under the first", () => {
    const html = cautionsAnnex([...gaps, ...others]);
    expect(html.match(/<h3>[^<]*/g)).toEqual(["<h3>1 The survey", "<h3>3 Metal"]);
    expect(html).toContain("and 2 more of this kind");
    for (const { html: text } of gaps) expect(html.split(text)).toHaveLength(2);
    expect(html.match(/Look <b>there<\/b>\./g)).toHaveLength(1);
    expect(html).toContain('<a href="#c2">');
  });

  it("is announced with how many there are and of how many kinds", () => {
    expect(cautionsPointer([...gaps, ...others])).toContain("4 cautions of 2 kinds");
    expect(cautionsPointer(others)).toContain(">1 caution</a>");
  });

  it("is left out where nothing was cautioned of", () => {
    expect(cautionsAnnex([])).toBe("");
    expect(cautionsPointer([])).toBe("");
  });
});
