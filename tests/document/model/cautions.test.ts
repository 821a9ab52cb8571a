import { describe, expect, it } from "vitest";
import { cautionSections, cautionsCount } from "../../../lib/document/model/cautions.js";

const caution = (section: string, text: string, id = "c1") => ({ id, section, content: [text] });
const gaps = [
  caution("1 The survey", "2031-10, a.csv: 41 readings lie in 2 gaps."),
  caution("1 The survey", "2031-10, b.csv: 39 readings lie in 2 gaps."),
  caution("1 The survey", "2032-03, a.csv: 38 readings lie in 3 gaps."),
];
const others = [caution("3 Metal", "Look there.", "c2"), caution("3 Metal", "Look there.", "c3")];

describe("cautionSections", () => {
  it("holds each once, by section, those of one kind together", () => {
    const sections = cautionSections([...gaps, ...others]);
    expect(sections.map(({ heading }) => heading)).toEqual(["1 The survey", "3 Metal"]);
    expect(sections[0]!.kinds).toEqual([gaps]);
    expect(sections[1]!.kinds).toEqual([[others[0]]]);
  });

  it("counts them and their kinds", () => {
    expect(cautionsCount(cautionSections([...gaps, ...others]))).toBe("4 cautions of 2 kinds");
    expect(cautionsCount(cautionSections(others))).toBe("1 caution");
    expect(cautionsCount([])).toBe("");
  });
});
