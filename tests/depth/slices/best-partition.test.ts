import { describe, expect, it } from "vitest";
import { bestPartition } from "../../../lib/depth/slices/best-partition.js";

const top_m = Float64Array.of(0, 1, 2, 3, 4);
const m = top_m.length;
const diagonal = (values: readonly number[]) =>
  Float64Array.from({ length: m * m }, (_, at) =>
    Math.floor(at / m) === at % m ? values[at % m]! : 0,
  );
const before = diagonal([1, 1, 1, 1, 1]);

describe("bestPartition", () => {
  it("cuts where a well known layer ends", () => {
    const after = [diagonal([1e-4, 0.9, 0.9, 0.9, 1])];
    expect(bestPartition(top_m, 2, { before, after })[1]).toBe(1);
  });

  it("gives a slice each to the layers that are known", () => {
    const after = [diagonal([0.01, 0.01, 0.01, 0.01, 1])];
    expect(bestPartition(top_m, 4, { before, after })).toEqual([0, 1, 2, 3, 4]);
  });

  it("puts layers together that only their mean is known of", () => {
    // Layers 2 and 3 are known in their sum: of their difference nothing is told.
    const after = diagonal([0.01, 0.505, 0.505, 0.01, 1]);
    after[m + 2] = after[2 * m + 1] = -0.495;
    expect(bestPartition(top_m, 3, { before, after: [after] })).toEqual([0, 1, 3, 4]);
  });
});
