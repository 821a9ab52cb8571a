import { describe, expect, it } from "vitest";
import { meetingTexts } from "./text-boxes.js";

describe("texts that meet", () => {
  it("are found through groups and turned letters, and neighbours are let be", () => {
    const text = (x: number, y: number, words: string, turn = "") =>
      `<text text-anchor="start" transform="translate(${x},${y})${turn}" font-size="10px">${words}</text>`;
    const svg = (second: string) =>
      `<svg><g transform="translate(5,5)"><g><path d=""/></g>${text(0, 0, "gate")}</g>${second}</svg>`;
    expect(meetingTexts(svg(text(10, 5, "culvert")))).toEqual(["gate | culvert"]);
    expect(meetingTexts(svg(text(10, 20, "upright", " rotate(-90)")))).toEqual(["gate | upright"]);
    expect(meetingTexts(svg(text(10, 20, "culvert")))).toEqual([]);
    expect(meetingTexts(svg(text(40, 5, "culvert")))).toEqual([]);
    const broken = '<tspan>not</tspan><tspan x="0" dy="12">noted</tspan>';
    expect(meetingTexts(svg(text(10, -7, broken)))).toEqual(["gate | noted"]);
  });
});
