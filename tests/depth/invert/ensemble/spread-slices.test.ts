import { describe, expect, it } from "vitest";
import { spreadSlices } from "../../../../lib/depth/invert/ensemble/spread-slices.js";
import { seededRandom } from "../../../../lib/numerics/random.js";

const top_m = Float64Array.of(0, 0.5, 1, 2, 3, 5);
const DRAWS = 400;
const OPTIONS = { sliceSd: 0.12, priorSd: 0.75 };

/** Columns of layers about means with deviations of log10, each layer by itself. */
function drawn(mean: readonly number[], sd: readonly number[]) {
  const random = seededRandom(9);
  const columns = new Float32Array(3 * DRAWS * 6);
  for (let at = 0; at < columns.length; at++) {
    const j = at % 6;
    columns[at] = Math.LN10 * (mean[j]! + sd[j]! * random.normal());
  }
  return { columns, draws: DRAWS, top_m };
}

const depths = (slices: ReturnType<typeof spreadSlices>) =>
  slices.map(({ top_m: top, base_m, reliable }) => [top, base_m, reliable]);

describe("spreadSlices", () => {
  it("takes every layer that is known by itself", () => {
    const even = [-1.5, -1.5, -1.5, -1.5, -1.5, -1.5];
    expect(depths(spreadSlices(drawn(even, [0.05, 0.05, 0.05, 0.05, 0.05, 1]), OPTIONS))).toEqual([
      [0, 0.5, true],
      [0.5, 1, true],
      [1, 2, true],
      [2, 3, true],
      [3, 5, true],
    ]);
  });

  it("keeps reliable slices below one that is not", () => {
    const dry = [-2.5, -2.5, -1, -1, -1, -1];
    const slices = spreadSlices(drawn(dry, [0.4, 0.4, 0.05, 0.05, 0.05, 1]), OPTIONS);
    expect(slices[0]!.reliable).toBe(false);
    expect(slices.filter((slice) => slice.reliable).map(({ top_m: top }) => top)).toEqual([
      1, 2, 3,
    ]);
  });

  it("calls no slice reliable that a strong contrast lies within", () => {
    // Each layer is worse known than a slice may be, two together are not.
    const contrast = [-2.6, -1, -1, -1, -1, -1];
    const slices = spreadSlices(drawn(contrast, [0.14, 0.14, 0.05, 0.05, 0.05, 1]), OPTIONS);
    const across = slices.find((slice) => slice.top_m === 0 && slice.base_m > 0.5);
    expect(across?.reliable ?? false).toBe(false);
    const alike = [-1, -1, -1, -1, -1, -1];
    const even = spreadSlices(drawn(alike, [0.14, 0.14, 0.05, 0.05, 0.05, 1]), OPTIONS);
    expect(depths(even)[0]).toEqual([0, 1, true]);
  });

  it("hands on what is known best, and calls none of it reliable, where nothing is known", () => {
    const even = [-1.5, -1.5, -1.5, -1.5, -1.5, -1.5];
    const slices = spreadSlices(drawn(even, [0.2, 0.2, 0.4, 0.5, 0.9, 1]), OPTIONS);
    expect(slices.length).toBeGreaterThan(0);
    expect(slices.some((slice) => slice.reliable)).toBe(false);
  });
});
