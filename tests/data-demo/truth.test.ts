import { describe, expect, it } from "vitest";
import { rowsOf, type Stretch, standardDeviation, truth } from "./demo-folder.js";

const known = truth();

function resistivityAt(block: (typeof known.blocks)[number], depth_m: number): number {
  const layer = block.layers.find((one) => depth_m < (one.base_m ?? Infinity))!;
  return layer.resistivity25_ohm_m;
}

const length = (stretches: readonly Stretch[]) =>
  stretches.reduce((sum, one) => sum + one.to_m - one.from_m, 0);

describe("the ground of the demo", () => {
  it("has seven blocks of 180 to 560 m that cover the bank", () => {
    expect(known.blocks).toHaveLength(7);
    expect(known.boundaries_m).toEqual(known.blocks.slice(1).map((block) => block.from_m));
    expect(length(known.blocks)).toBe(2400);
    for (const { from_m, to_m, layers } of known.blocks) {
      expect(to_m - from_m).toBeGreaterThanOrEqual(180);
      expect(to_m - from_m).toBeLessThanOrEqual(560);
      expect(layers.length).toBeGreaterThanOrEqual(4);
      expect(layers.length).toBeLessThanOrEqual(6);
      for (const layer of layers) {
        expect(layer.resistivity25_ohm_m).toBeGreaterThanOrEqual(8);
        expect(layer.resistivity25_ohm_m).toBeLessThanOrEqual(250);
      }
    }
  });

  it("differs between neighbours by a factor of 1.5 or more somewhere in the upper 3 m", () => {
    const depths = Array.from({ length: 30 }, (_, k) => 0.05 + k * 0.1);
    for (let k = 1; k < known.blocks.length; k++) {
      const ratios = depths.map((depth_m) => {
        const [left, right] = [known.blocks[k - 1]!, known.blocks[k]!];
        return Math.abs(Math.log(resistivityAt(left, depth_m) / resistivityAt(right, depth_m)));
      });
      expect(Math.max(...ratios)).toBeGreaterThan(Math.log(1.5));
    }
  });

  it("is uneven within a block by 6 to 8 %, alike over about 5 m", () => {
    const { at25, spacing_m } = known.grid;
    const columns = [2, 6, 12].flatMap((depth) =>
      known.blocks.map((block) => {
        const rows = at25["2031-10"]!.slice(
          (block.from_m + 8) / spacing_m,
          (block.to_m - 8) / spacing_m,
        );
        return rows.map((row) => Math.log(row[depth]!));
      }),
    );
    const lensless = columns.filter((_, k) => k % 7 !== 5);
    const spread = Math.sqrt(averageOf(lensless, (column) => standardDeviation(column) ** 2));
    // 7.1 % at a point; the grid is a mean over 2 m and the blocks are short, which takes 5 to 10 %.
    expect(spread).toBeGreaterThan(0.06);
    expect(spread).toBeLessThan(0.08);
    // exp(-6/5) = 0.30 at 6 m; the error of the mean over some 1000 m is about 0.05.
    expect(averageOf(lensless, (column) => correlation(column, 3))).toBeGreaterThan(0.15);
    expect(averageOf(lensless, (column) => correlation(column, 3))).toBeLessThan(0.45);
  });

  it("holds a resistive lens under a conductive blanket", () => {
    const { lens, grid } = known;
    expect(lens.to_m - lens.from_m).toBe(60);
    const row = grid.at25["2031-10"]![(lens.from_m + lens.to_m) / 2 / grid.spacing_m + 0.5]!;
    expect(row[8]).toBeGreaterThan(120);
    expect(row[3]).toBeLessThan(30);
  });

  it("changes by 25 to 40 % in two stretches and nowhere else by more than the season's 5 %", () => {
    const { at25, spacing_m, depthEdges_m } = known.grid;
    expect(known.changes.map((change) => change.to_m - change.from_m)).toEqual([50, 70]);
    for (const change of known.changes) {
      const conductivity = Math.abs(1 / change.ratio - 1);
      expect(conductivity).toBeGreaterThanOrEqual(0.25);
      expect(conductivity).toBeLessThanOrEqual(0.4);
    }
    const changed = at25["2031-10"]!.map((row, i) =>
      row.some((value, k) => Math.abs(Math.log(at25["2032-03"]![i]![k]! / value)) > 0.1),
    );
    const inside = changed.map((_, i) =>
      known.changes.some((c) => i * spacing_m >= c.from_m - 2 && i * spacing_m <= c.to_m + 2),
    );
    expect(changed.filter((is, i) => is && !inside[i])).toEqual([]);
    expect(changed.filter(Boolean).length * spacing_m).toBeGreaterThan(110);
    expect(depthEdges_m).toHaveLength(25);
  });

  it("is colder in spring near the surface, so its resistivity at field temperature is higher", () => {
    const { field } = known.grid;
    const factor = field["2032-03"]![200]![3]! / field["2031-10"]![200]![3]!;
    expect(factor).toBeGreaterThan(1.15);
    expect(factor).toBeLessThan(1.5);
  });
});

describe("the metal and the gaps of the demo", () => {
  it("are nine objects: six noted and felt, two not noted, one noted and silent", () => {
    const { metal } = known;
    expect(metal).toHaveLength(9);
    expect(metal.filter((one) => one.noted && !one.silent)).toHaveLength(6);
    expect(metal.filter((one) => !one.noted && !one.silent)).toHaveLength(2);
    expect(metal.filter((one) => one.noted && one.silent)).toHaveLength(1);
    expect(metal.filter((one) => one.campaigns.length === 1)).toHaveLength(1);
  });

  it("are noted where they lie", () => {
    const notes = rowsOf("field-notes.csv").filter((note) => /metal|structure/.test(note.kind!));
    const noted = known.metal.filter((one) => one.noted);
    expect(notes.map((note) => note.object)).toEqual(noted.map((one) => one.object));
    for (const [k, note] of notes.entries()) {
      expect(Math.abs(Number(note.from_m) - noted[k]!.from_m)).toBeLessThanOrEqual(1);
      expect(Math.abs(Number(note.to_m) - noted[k]!.to_m)).toBeLessThanOrEqual(1);
    }
  });

  it("take under 8 % of the length in each campaign", () => {
    for (const campaign of ["2031-10", "2032-03"]) {
      const felt = known.metal.filter((one) => one.footprint && one.campaigns.includes(campaign));
      const gaps = known.gpsGaps.filter(
        (gap) => gap.campaign === campaign && gap.orientation === "HCP",
      );
      expect(gaps).toHaveLength(2);
      const taken = length(felt.map((one) => one.footprint!)) + length(gaps);
      expect(taken / known.length_m).toBeLessThan(0.08);
    }
  });
});

function averageOf(
  columns: readonly (readonly number[])[],
  of: (column: readonly number[]) => number,
): number {
  return columns.reduce((sum, column) => sum + of(column), 0) / columns.length;
}

function correlation(column: readonly number[], lag: number): number {
  const middle = column.reduce((sum, value) => sum + value, 0) / column.length;
  let top = 0;
  let bottom = 0;
  for (const [k, value] of column.entries()) {
    bottom += (value - middle) ** 2;
    if (k >= lag) top += (value - middle) * (column[k - lag]! - middle);
  }
  return top / bottom;
}
