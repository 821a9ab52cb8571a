import { describe, expect, it } from "vitest";
import { chainTable } from "./chain-table.js";
import { grouped } from "./grouped.js";
import { type Case, judge } from "./judge.js";
import { judgeChain } from "./judge-chain.js";
import { rowOf, tableText } from "./table.js";

const CASE: Case = {
  ground: "gradational",
  instrument: "three separations HCP+PRP",
  errors: "noise",
  seed: 1,
};

describe("judging by case", () => {
  it("holds the depth slices of a survey against its truth", async () => {
    const judged = await judge(CASE);
    expect(judged.slices.some((slice) => slice.reliable && slice.stations > 150)).toBe(true);
    // Noise alone, on ground without surprises: a bad forward model would be off by far more.
    const row = rowOf("case", [judged, judged]);
    expect(row.error).toBeLessThan(0.1);
    expect(row.windows[0]).toBeLessThan(0.1);
    expect(row.held).toBeGreaterThan(0.5);
    expect(row.surveys).toBe(2);
    expect(tableText([row]).split("\n").length).toBe(2);
  });

  it("counts boundaries and changes, found and false", async () => {
    const judged = await judgeChain(CASE);
    expect(judged.changes.true).toBe(2);
    expect(judged.boundaries.true).toBe(0);
    const table = chainTable(grouped([judged]));
    expect(table.split("\n").length).toBe(5);
    expect(table).toContain("of 2");
  });

  it("groups by ground and instrument, each, and all", () => {
    const other: Case = { ...CASE, ground: "peat" };
    const sizes = [...grouped([CASE, other, other])].map(([name, all]) => [name, all.length]);
    expect(sizes).toEqual([
      ["gradational × three separations HCP+PRP", 1],
      ["peat × three separations HCP+PRP", 2],
      ["all of gradational", 1],
      ["all of peat", 2],
      ["all of three separations HCP+PRP", 3],
      ["all", 3],
    ]);
  });
});
