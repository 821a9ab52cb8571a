import { describe, expect, it } from "vitest";
import { reliableDepth } from "../../../lib/depth/slices/choose-slices.js";
import { sliceWeights } from "../../../lib/depth/slices/slice-weights.js";
import { expectClose } from "../../support/expect-close.js";

describe("reliableDepth", () => {
  it("stops at the first slice that is not reliable", () => {
    const slices = [
      { top_m: 0, base_m: 1, reliable: true },
      { top_m: 1, base_m: 2, reliable: false },
      { top_m: 2, base_m: 3, reliable: true },
    ];
    expect(reliableDepth(slices)).toBe(1);
    expect(reliableDepth([])).toBe(0);
  });
});

describe("sliceWeights", () => {
  it("weights layers by the share of the slice they fill, the last layer without end", () => {
    const [one, deep] = sliceWeights(Float64Array.of(0, 0.5, 2), [
      { top_m: 0.25, base_m: 1.25 },
      { top_m: 1, base_m: 6 },
    ]);
    expect([...one!]).toEqual([0.25, 0.75, 0]);
    for (const [j, weight] of [0, 0.2, 0.8].entries()) {
      expectClose(deep![j]!, weight, { absolute: 1e-12 });
    }
  });
});
