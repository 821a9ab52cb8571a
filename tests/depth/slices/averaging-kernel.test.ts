import { describe, expect, it } from "vitest";
import { stationResolution } from "../../../lib/depth/invert/station/station-resolution.js";
import { layerPrior } from "../../../lib/depth/prior/layer-prior.js";
import { averagingKernel, toldApart } from "../../../lib/depth/slices/averaging-kernel.js";
import { expectClose } from "../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1, 2, 4);
const prior = layerPrior(top_m, { levelSd: 1, layerSd: 0.7, correlation_m: 1 });
const slices = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 3 },
];
const m = top_m.length;

/** L Lᵀ: the prior covariance itself. */
const covariance = Float64Array.from({ length: m * m }, (_, at) => {
  const [i, j] = [Math.floor(at / m), at % m];
  let sum = 0;
  for (let k = 0; k < m; k++) sum += prior.factor[i * m + k]! * prior.factor[j * m + k]!;
  return sum;
});

const kernelOf = (matrix: Float64Array | null) =>
  averagingKernel(
    {
      top_m,
      gap: [matrix === null ? "no readings" : ""],
      timesResolution: stationResolution([matrix], prior),
    },
    slices,
  );

describe("averagingKernel", () => {
  it("is nothing where the data told nothing, the identity where they told all", () => {
    const blind = kernelOf(covariance);
    const seen = kernelOf(new Float64Array(m * m));
    // Two solves of a 5 × 5 system with a condition number under 100: rounding only.
    for (const [a, b, same] of [
      [0, 0, 1],
      [0, 1, 0],
      [1, 0, 0],
    ] as const) {
      expectClose(blind[a]![b]![0]!, 0, { absolute: 1e-9 });
      expectClose(seen[a]![b]![0]!, same, { absolute: 1e-12 });
    }
    // Slice 2 takes the whole of the third layer and half of the fourth, each half of its own
    // thickness: ½ × 1 + ½ × ½.
    expectClose(seen[1]![1]![0]!, 0.75, { absolute: 1e-12 });
  });

  it("is half of the identity where half of the prior covariance is left", () => {
    const half = covariance.map((value) => value / 2);
    const kernel = kernelOf(half);
    expectClose(kernel[0]![0]![0]!, 0.5, { absolute: 1e-9 });
    expectClose(kernel[0]![1]![0]!, 0, { absolute: 1e-9 });
  });

  it("tells a slice from neighbours that move it less than half of its own change", () => {
    const at = (values: readonly number[][]) =>
      values.map((row) => row.map((v) => Float64Array.of(v)));
    const apart = at([
      [0.6, 0.2],
      [0.35, 0.6],
    ]);
    expect([toldApart(apart, 0), toldApart(apart, 1)]).toEqual([true, false]);
  });

  it("is missing where there is no estimate", () => {
    expect(kernelOf(null)[1]![0]![0]).toBeNaN();
  });
});
