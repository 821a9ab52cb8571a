import { describe, expect, it } from "vitest";
import {
  chooseSlices,
  reliableDepth,
  type SliceDepths,
  sliceWeights,
} from "../../../lib/depth/slices/choose-slices.js";
import { expectClose } from "../../support/expect-close.js";

const tops = [0, 0.5, 1, 2, 3, 5];

describe("chooseSlices", () => {
  it("deepens each slice until it is known well enough, and ends where none ever is", () => {
    // Known where a slice is as thick as the depth of its top plus 0.5 m.
    const known = ({ top_m, base_m }: SliceDepths) => base_m - top_m >= top_m + 0.5;
    const slices = chooseSlices(tops, known, 9);
    expect(slices.map(({ top_m, base_m }) => [top_m, base_m])).toEqual([
      [0, 0.5],
      [0.5, 2],
      [2, 5],
    ]);
    expect(slices.every((slice) => slice.reliable)).toBe(true);
    expect(reliableDepth(slices)).toBe(5);
  });

  it("gives no more slices than independent levels", () => {
    expect(chooseSlices(tops, () => true, 2)).toHaveLength(2);
  });

  it("shows each try the slice above", () => {
    const above: (number | undefined)[] = [];
    chooseSlices(
      tops,
      (_, before) => {
        above.push(before?.base_m);
        return true;
      },
      3,
    );
    expect(above).toEqual([undefined, 0.5, 1]);
  });

  it("gives none where nothing is known", () => {
    expect(chooseSlices(tops, () => false, 3)).toEqual([]);
    expect(reliableDepth([])).toBe(0);
  });
});

describe("reliableDepth", () => {
  it("stops at the first slice that is not reliable", () => {
    const slices = [
      { top_m: 0, base_m: 1, reliable: true },
      { top_m: 1, base_m: 2, reliable: false },
      { top_m: 2, base_m: 3, reliable: true },
    ];
    expect(reliableDepth(slices)).toBe(1);
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
