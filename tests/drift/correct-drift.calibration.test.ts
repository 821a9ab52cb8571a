import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import type { DriftCorrected } from "../../lib/drift/drift.js";
import { drifting, level } from "../support/drifting.js";
import { expectClose } from "../support/expect-close.js";

const NOISE = 12;
const REPEATS = 12;
const checkError = NOISE / Math.sqrt(REPEATS);
const seeds = Array.from({ length: 50 }, (_, i) => i + 1);

/** What is left of the drift in a channel: readings are `level` without it. */
const leftover = (value: DriftCorrected, c: number) =>
  value.passes[0]!.values[c]!.map((one) => one - level);

/** Change over the walk of the straight line through the leftovers. */
function trend(values: Float64Array, time_s: Float64Array): number {
  const mean = (list: Float64Array) => list.reduce((sum, one) => sum + one, 0) / list.length;
  const [meanTime, meanValue] = [mean(time_s), mean(values)];
  let [product, square] = [0, 0];
  for (const [i, t] of time_s.entries()) {
    product += (t - meanTime) * (values[i]! - meanValue);
    square += (t - meanTime) ** 2;
  }
  return (product / square) * (time_s.at(-1)! - time_s[0]!);
}

describe("correctDrift on seeded surveys", () => {
  const truth = [
    { perHour: 80, step: 0 },
    { perHour: -140, step: 60 },
    { perHour: 0, step: 0 },
  ];
  const results = seeds.map((seed) => correctDrift(drifting({ seed, truth })).value);

  it.each([
    ["linear", 0],
    ["stepped", 1],
  ])("leaves no trend beyond the checks' own error in nine of ten (%s drift)", (_, c) => {
    // A trend is a difference of two ends, each known to one check's error; two standard errors.
    const limit = 2 * Math.SQRT2 * checkError;
    const good = results.filter((value) => {
      return Math.abs(trend(leftover(value, c), value.passes[0]!.time_s)) < limit;
    });
    expect(good.length).toBeGreaterThanOrEqual(45);
  });

  it("finds the mean slope within 15 % and the step within four check errors", () => {
    for (const { drift } of results) {
      expectClose(drift[0]!.perHour, 80, { relative: 0.15 });
      expectClose(drift[1]!.perHour, -140, { relative: 0.15 });
      expect(drift[1]!.steps).toHaveLength(1);
      expectClose(drift[1]!.steps[0]!.size, 60, { absolute: 4 * Math.SQRT2 * checkError });
    }
  });

  it("states a standard error that holds the truth two times out of three", () => {
    // 68.3 % of 50, within two binomial standard errors of 3.3.
    for (const [c, { perHour }] of truth.slice(0, 2).entries()) {
      const held = results.filter(({ drift }) => {
        return Math.abs(drift[c]!.perHour - perHour) < drift[c]!.perHourError;
      });
      expectClose(held.length, 34.1, { absolute: 6.6 });
    }
  });

  it("leaves a steady channel as it is, and never makes it worse than its checks are known", () => {
    const untouched = results.filter((value) => value.drift[2]!.model === "none");
    expect(untouched.length).toBeGreaterThanOrEqual(48);
    for (const value of results) {
      const worst = Math.max(...leftover(value, 2).map(Math.abs));
      expect(worst).toBeLessThan(4 * Math.SQRT2 * checkError);
    }
  });

  it("is misled by half of the surveys at most whose coils are set down anew each time", () => {
    const scattered = seeds.map((seed) =>
      correctDrift(drifting({ seed, truth: [{ perHour: 0, step: 0 }], visitNoise: 15 })),
    );
    const none = scattered.filter(({ value }) => value.drift[0]!.model === "none");
    // Six visits whose levels scatter by four errors look like drift or a step half of the time.
    expect(none.length).toBeGreaterThanOrEqual(25);
  });
});
