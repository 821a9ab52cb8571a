import { describe, expect, it } from "vitest";
import { unfold } from "../../../../lib/campaigns/pair/effect/unfold.js";
import { expectClose } from "../../../support/expect-close.js";

const diagonal = (...values: number[]) => {
  const k = values.length;
  return Float64Array.from({ length: k * k }, (_, at) =>
    at % (k + 1) === 0 ? values[Math.floor(at / k)]! : 0,
  );
};

describe("unfold", () => {
  it("hardly draws in what is seen well, and its interval is that of the errors", () => {
    const [one] = unfold(
      {
        mean: Float64Array.of(0.1),
        covariance: diagonal(0.01 ** 2),
        averaging: diagonal(1),
        averagingError: 0,
      },
      0.9,
    );
    // Drawn in by a share of 0.01² / (0.01² + 0.1²), about 1 %, of 0.1; 1.645 × 0.01 to either
    // side.
    expectClose(one!.median, 0.1, { absolute: 0.002 });
    expectClose(one!.hi - one!.lo, 0.0329, { relative: 0.05 });
  });

  it("brings back a change that the estimate shows by half, at twice the error", () => {
    const [one] = unfold(
      {
        mean: Float64Array.of(0.1),
        covariance: diagonal(0.005 ** 2),
        averaging: diagonal(0.5),
        averagingError: 0,
      },
      0.9,
    );
    expectClose(one!.median, 0.2, { absolute: 0.005 });
    expectClose(one!.hi - one!.lo, 2 * 1.645 * 0.01, { relative: 0.05 });
  });

  it("tells two slices apart that show a part of each other", () => {
    const averaging = Float64Array.of(0.7, 0.3, 0.3, 0.5);
    const truth = [0.15, 0];
    const mean = Float64Array.of(0.7 * truth[0]!, 0.3 * truth[0]!);
    const found = unfold(
      { mean, covariance: diagonal(1e-6, 1e-6), averaging, averagingError: 0 },
      0.9,
    );
    // Errors of 0.001 are multiplied by the inverse of the kernel, at most by 4.
    expectClose(found[0]!.median, 0.15, { absolute: 0.006 });
    expectClose(found[1]!.median, 0, { absolute: 0.006 });
  });

  it("gives back its prior where the slices show nothing", () => {
    const [one] = unfold(
      {
        mean: Float64Array.of(0),
        covariance: diagonal(1),
        averaging: diagonal(0),
        averagingError: 0,
      },
      0.9,
    );
    expectClose(one!.median, 0, { absolute: 1e-6 });
    // A mixture of sizes from 0.01 to 0.5: its 90 % interval lies between ±0.1 and ±0.82.
    expect(one!.hi).toBeGreaterThan(0.1);
    expect(one!.hi).toBeLessThan(0.82);
  });
});
