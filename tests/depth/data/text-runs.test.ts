import { describe, expect, it } from "vitest";
import { estimatedRuns, textRuns } from "../../../lib/depth/data/text-runs.js";

describe("textRuns", () => {
  it("joins neighbours of one text, and breaks at another and at none", () => {
    expect(textRuns(["a", "a", "b", "", "b"])).toEqual([
      { first: 0, last: 1, text: "a" },
      { first: 2, last: 2, text: "b" },
      { first: 4, last: 4, text: "b" },
    ]);
    expect(textRuns(["", ""])).toEqual([]);
  });
});

describe("estimatedRuns", () => {
  it("are the stations between gaps", () => {
    const runs = estimatedRuns({ gap: ["set aside", "", "", "no readings", ""] });
    expect(runs.map(({ first, last }) => [first, last])).toEqual([
      [1, 2],
      [4, 4],
    ]);
  });
});
