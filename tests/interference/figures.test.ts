import { describe, expect, it } from "vitest";
import { maskInterference } from "../../lib/interference/mask-interference.js";
import { renderSvg } from "../../lib/step/show/render-svg.js";
import { disturbed } from "../support/disturbed.js";

describe("the figure of maskInterference", () => {
  const metal = [
    { at_m: 80, size: 12 },
    { at_m: 200, size: 12 },
  ];
  const notes = [{ object: "gate", from_m: 81, to_m: 81 }];
  const orientations = ["HCP", "VCP"] as const;
  const result = maskInterference(
    disturbed({ seed: 5, metal, notes, orientations, length_m: 300 }),
  );

  it("has the finding as its title and compiles without a warning", async () => {
    const [figure] = result.figures;
    expect(figure!.title).toMatch(/^Two stretches of campaign 2031-10 set aside, \d+\.\d % of/);
    expect(figure!.title).toMatch(/% of the readings; one of them nobody noted$/);
    const svg = await renderSvg(figure!.spec);
    expect(svg).toContain("gate");
    expect(svg).toContain("not noted");
  });

  it("comes with the stretches, the cross-table of notes and the noise", () => {
    expect(result.tables.map(({ rows }) => rows.length)).toEqual([2, 2, 2, 20]);
    expect(result.tables[1]!.rows).toMatchObject([
      { seen: 1, unseen: 0 },
      { seen: 1, unseen: null },
    ]);
    expect(result.tables[2]!.rows).toMatchObject([
      { object: "gate", verdict: "noted and seen" },
      { object: "not noted", verdict: "seen, not noted: go back and look" },
    ]);
  });
});
