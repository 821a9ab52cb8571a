import { describe, expect, it } from "vitest";
import { sectionCells } from "../../../lib/sections/model/section-cells.js";

const even = Array.from({ length: 10 }, (_, i) => 2 * i);

describe("sectionCells", () => {
  it("has an edge at every electrode, and wider columns beyond the ends", () => {
    const { x_m } = sectionCells(even, { columnsPerSpacing: 1, depth_m: 5 });
    expect(x_m.slice(3, -3)).toEqual(even);
    expect(x_m.slice(0, 3)).toEqual([-14, -6, -2]);
    expect(x_m.slice(-3)).toEqual([20, 24, 32]);
  });

  it("splits columns where it is told to, and where electrodes lie apart", () => {
    const half = sectionCells(even, { columnsPerSpacing: 2, depth_m: 5 });
    expect(half.x_m.filter((x) => x >= 0 && x <= 18)).toHaveLength(19);
    const gap = sectionCells([0, 2, 4, 10, 12, 14], { columnsPerSpacing: 1, depth_m: 5 });
    expect(gap.x_m.slice(3, -3)).toEqual([0, 2, 4, 6, 8, 10, 12, 14]);
  });

  it("joins columns where electrodes crowd, whatever their order", () => {
    const { x_m } = sectionCells([6, 0, 2, 2.5, 4, 8], { columnsPerSpacing: 1, depth_m: 5 });
    expect(x_m.slice(3, -3)).toEqual([0, 2, 4, 6, 8]);
  });

  it("lays rows that grow with depth, the last one below the depth asked for", () => {
    const { depth_m } = sectionCells(even, { columnsPerSpacing: 1, depth_m: 5 });
    const heights = depth_m.slice(1).map((base, j) => base - depth_m[j]!);
    expect(heights.every((height, j) => j === 0 || height > heights[j - 1]!)).toBe(true);
    expect(depth_m.at(-2)).toBeGreaterThanOrEqual(5);
    expect(depth_m.at(-3)).toBeLessThan(5);
  });
});
