import { describe, expect, it } from "vitest";
import { hiddenLayers_m } from "../../../lib/depth/slices/hidden-layer.js";
import { NORMAL_90 } from "../../../lib/numerics/statistics/normal.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";

/** Slices 0–1, 1–2.5 and 2.5–5 m whose estimates follow their own ground by a share. */
function following(own: number, sd: number) {
  const made = makeDepthSlices({ stations: 20, sd, gaps_m: [[10, 20]] });
  const share = (a: number, b: number) =>
    made.gap.map((gap) => (gap !== "" ? Number.NaN : a === b ? own : 0));
  const averaging = made.slices.map((_, a) =>
    made.slices.map((_, b) => Float64Array.from(share(a, b))),
  );
  return { ...made, averaging };
}

describe("hiddenLayers_m", () => {
  it("is the interval's upper half over the contrast's logarithm where estimates stay", () => {
    const halfway = NORMAL_90 * 0.1;
    for (const [k, thick_m] of [1, 1.5, 2.5].entries()) {
      // A hundredth of the slice is the step.
      const found = hiddenLayers_m(following(0, 0.1))[k]!;
      expectClose(found, halfway * thick_m, { absolute: 0.01 * thick_m });
      expect(found).toBeGreaterThanOrEqual(halfway * thick_m);
    }
  });

  it("solves the equation of a kernel that follows conductance, from both sides", () => {
    const above = NORMAL_90 * 0.1;
    const off = (share: number) => share + 0.8 * Math.log10(1 - 0.9 * share);
    const share = hiddenLayers_m(following(0.8, 0.1))[0]!;
    expect(off(share)).toBeGreaterThanOrEqual(above);
    expect(off(share - 0.011)).toBeLessThan(above);
  });

  it("is thicker where estimates follow more, and none where intervals hold any layer", () => {
    const [still, moved] = [0, 0.9].map((own) => hiddenLayers_m(following(own, 0.1))[1]!);
    expect(moved!).toBeGreaterThan(1.5 * still!);
    expect(hiddenLayers_m(following(0, 1))).toEqual([null, null, null]);
  });

  it("is not told without an averaging kernel, or without an estimate", () => {
    expect(hiddenLayers_m(makeDepthSlices({ stations: 20 }))).toEqual([]);
    const value = following(0.5, 0.1);
    expect(hiddenLayers_m({ ...value, gap: value.gap.map(() => "no readings" as const) })).toEqual(
      [],
    );
  });
});
