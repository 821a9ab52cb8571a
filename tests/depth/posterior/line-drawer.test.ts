import { describe, expect, it } from "vitest";
import { widen } from "../../../lib/depth/posterior/line-drawer.js";
import { expectClose } from "../../support/expect-close.js";

const LAYERS = 2;
const draws = [
  [1, -4],
  [2, -4.5],
  [6, -5],
];

function moments(columns: ArrayLike<number>, layer: number) {
  const values = draws.map((_, d) => columns[d * LAYERS + layer]!);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  return { mean, variance };
}

describe("widen", () => {
  it("raises the variance by one part in the number of members, and keeps means and order", () => {
    const before = draws.flat();
    const columns = Float32Array.from(before);
    widen(columns, draws.length, 4);
    for (let layer = 0; layer < LAYERS; layer++) {
      const [was, is] = [moments(before, layer), moments(columns, layer)];
      expectClose(is.mean, was.mean, { absolute: 1e-6 });
      expectClose(is.variance, 1.25 * was.variance, { relative: 1e-5 });
    }
    expect(columns[0]! < columns[2]! && columns[2]! < columns[4]!).toBe(true);
  });

  it("leaves draws of very many members as they are", () => {
    const columns = Float32Array.from(draws.flat());
    widen(columns, draws.length, 1e9);
    expect([...columns]).toEqual(draws.flat());
  });
});
