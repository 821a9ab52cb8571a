import { describe, expect, it } from "vitest";
import type { DriftDatum } from "../../../lib/drift/checks/drift-datum.js";
import { averageDrift } from "../../../lib/drift/models/average-drift.js";
import { averagedRises } from "../../../lib/drift/models/average-rises.js";
import { commonTraits, type Traits } from "../../../lib/drift/models/common-traits.js";
import {
  type DriftStory,
  driftStories,
  SCATTER_SHARES,
} from "../../../lib/drift/models/drift-hypotheses.js";
import type { StepTimes } from "../../../lib/drift/models/drift-shapes.js";
import { solveDrift } from "../../../lib/drift/models/drift-system.js";
import { choleskyFactor, choleskySolve } from "../../../lib/numerics/cholesky.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const NO_STEPS: StepTimes = { possible_s: [], declared_s: [] };
const visits_h = [0, 0.3, 0.6, 0.9, 1.2, 1.3, 1.6, 1.9, 2.2, 2.5];

/** One datum a visit, error 3. */
function dataOf(seed: number, drift: (hour: number) => number, scatter = 0) {
  const random = seededRandom(seed);
  return visits_h.map((hour): DriftDatum => {
    const value = drift(hour) + Math.hypot(3, scatter) * random.normal();
    return { time_s: 3600 * hour, minus_s: Number.NaN, value, error: 3 };
  });
}

const seeds = Array.from({ length: 40 }, (_, i) => i + 1);
const WITHIN_S = 450;

/** By its own checks, without other channels. */
function averageOf(data: readonly DriftDatum[], steps = NO_STEPS) {
  const own = driftStories(data, steps);
  return averageDrift(own, commonTraits([own], WITHIN_S)[0]!);
}

/** Rise from hour 0 to `hour` in one story by plain conditioning, its level all but free. */
function conditioned({ parts, frame }: DriftStory, hour: number) {
  const covariance = (a: number, b: number) =>
    parts.reduce((sum, { process, size }) => sum + size * size * process.covariance(a, b), 0);
  const at = frame.data.map(({ time_s }) => time_s / 3600);
  const free = 1e7;
  const matrix = Float64Array.from(at.flatMap((a) => at.map((b) => covariance(a, b) + free)));
  for (const [i, { error }] of frame.data.entries()) matrix[i * at.length + i]! += error ** 2;
  const root = choleskyFactor(matrix, at.length);
  const link = Float64Array.from(at, (a) => covariance(a, hour) - covariance(a, 0));
  const solved = choleskySolve(root, at.length, link);
  const along = (values: Float64Array) => values.reduce((sum, one, i) => sum + one * solved[i]!, 0);
  const own = covariance(hour, hour) + covariance(0, 0) - 2 * covariance(0, hour);
  const mean = along(Float64Array.from(frame.data, ({ value }) => value));
  return { mean, variance: own - along(link) };
}

describe("averageDrift", () => {
  it("is the average of all stories conditioned one by one", () => {
    const data = dataOf(3, (h) => 30 * h + 12 * Math.sin(2 * h));
    const own = driftStories(data, { possible_s: [1.25 * 3600], declared_s: [] });
    const [traits] = commonTraits([own], WITHIN_S);
    const averaged = averageDrift(own, traits!);
    const logs = own.stories.map(({ share, set, scatter, logLikelihood }) => {
      const { setShares, scatterShares } = traits!;
      return Math.log(share * setShares[set]! * scatterShares[scatter]!) + logLikelihood;
    });
    const best = Math.max(...logs);
    const weights = logs.map((log) => Math.exp(log - best));
    const total = weights.reduce((sum, one) => sum + one, 0);
    for (const hour of [0.4, 1.24, 1.26, 2.5]) {
      const [rise] = averagedRises(averaged, 0, [3600 * hour]);
      let [mean, square] = [0, 0];
      for (const [k, story] of own.stories.entries()) {
        if (weights[k]! < 1e-9) continue;
        const one = conditioned(story, hour);
        mean += (weights[k]! / total) * one.mean;
        square += (weights[k]! / total) * (one.variance + one.mean ** 2);
      }
      // The least likely 2 % do not count in the one; they may lie three deviations off.
      expectClose(rise!.mean, mean, { absolute: 0.02 * 3 * rise!.sd });
      expectClose(rise!.sd, Math.sqrt(square - mean * mean), { relative: 0.05 });
    }
  });

  it("weighs each story by the restricted likelihood that a fit gives", () => {
    const { stories } = driftStories(
      dataOf(4, (h) => 9 * h),
      NO_STEPS,
    );
    for (const story of stories) {
      const { logLikelihood } = solveDrift({ ...story.frame, wander: story.wander }, 1);
      expectClose(story.logLikelihood, logLikelihood, { absolute: 1e-9 });
    }
  });

  it("holds shares that sum to 1 beforehand, and odds that do so afterwards", () => {
    const data = dataOf(5, (h) => 9 * h);
    for (const possible_s of [[], [4000], [4000, 6000]]) {
      const own = driftStories(data, { possible_s, declared_s: [] });
      const [{ setShares, scatterShares }] = commonTraits([own], WITHIN_S) as [Traits];
      const total = own.stories.reduce(
        (sum, { share, set, scatter }) => sum + share * setShares[set]! * scatterShares[scatter]!,
        0,
      );
      expectClose(total, 1, { absolute: 1e-12 });
      const { odds } = averageOf(data, { possible_s, declared_s: [] });
      const sum = Object.values(odds).reduce((all, one) => all + one, 0);
      expectClose(sum, 1, { absolute: 1e-9 });
    }
  });

  it.each([
    ["steady", () => 0, 0.5],
    ["straight", (h: number) => 40 * h, 0.5],
    ["warm-up", (h: number) => 90 * (1 - Math.exp(-h / 0.5)), 0.5],
    ["swinging", (h: number) => 45 * Math.sin(2.5 * h), 0.5],
  ] as const)(
    "finds the kind that was simulated the likeliest as a rule (%s)",
    (kind, drift, most) => {
      const found = seeds.map((seed) => averageOf(dataOf(seed, drift)).odds);
      const right = found.filter((odds) => odds[kind] === Math.max(...Object.values(odds)));
      expect(right.length / seeds.length).toBeGreaterThan(most);
    },
  );

  it("finds evidence against a drift where there is none, and for one where there is", () => {
    const evidence = (drift: (h: number) => number, scatter: number) =>
      seeds.map((seed) => averageOf(dataOf(seed, drift, scatter)).evidence);
    // Evidence of 20 by chance is seen in one of 20 at most (Markov's inequality, as its mean is 1).
    const byChance = [0, 9].flatMap((scatter) => evidence(() => 0, scatter));
    expect(byChance.filter((one) => one > 20).length).toBeLessThanOrEqual(80 / 20);
    expect(Math.min(...evidence((h) => 20 * h, 0))).toBeGreaterThan(20);
  });

  it("tells a step that stands out, and where it is", () => {
    const steps = { possible_s: [0.75 * 3600, 1.25 * 3600], declared_s: [] };
    for (const seed of seeds) {
      const { stepOdds } = averageOf(
        dataOf(seed, (h) => (h > 1.25 ? 30 : 0)),
        steps,
      );
      expect(stepOdds.get(1.25 * 3600)).toBeGreaterThan(0.9);
      expect(stepOdds.get(0.75 * 3600)).toBeLessThan(0.5);
    }
  });

  it("expects the scatter of whole visits that there is", () => {
    const scatter = (size: number) => {
      const all = seeds.map((seed) => averageOf(dataOf(seed, () => 0, size)).scatter);
      return all.reduce((sum, one) => sum + one, 0) / all.length;
    };
    expect(scatter(0)).toBeLessThan(1);
    // Three errors; the grid is coarse and ten visits tell a scatter within a quarter.
    expectClose(scatter(9), 3, { relative: 0.3 });
  });
});

describe("commonTraits", () => {
  const scattered = (seed: number) =>
    driftStories(
      dataOf(seed, () => 0, 9),
      NO_STEPS,
    );
  const at_s = 1.25 * 3600;
  const stepped = (seed: number, size: number) =>
    driftStories(
      dataOf(seed, (h) => (h > 1.25 ? size : 0)),
      { possible_s: [at_s], declared_s: [] },
    );

  it("expects of a single channel what is common everywhere: its own checks count by themselves", () => {
    const [alone] = commonTraits([scattered(1)], WITHIN_S);
    const [other] = commonTraits([scattered(2)], WITHIN_S);
    expect(alone).toEqual(other);
    for (const [k, share] of alone!.scatterShares.entries()) {
      expectClose(share, SCATTER_SHARES[k]!, { absolute: 1e-12 });
    }
  });

  it("learns the scatter of whole visits from the other channels", () => {
    const traits = commonTraits([1, 2, 3, 4, 5, 6].map(scattered), WITHIN_S);
    for (const { scatterShares } of traits) {
      const sum = scatterShares.reduce((all, one) => all + one, 0);
      expectClose(sum, 1, { absolute: 1e-12 });
      // Scattered by three errors: 2.8 is the nearest on the grid.
      expect(scatterShares[0]).toBeLessThan(SCATTER_SHARES[0]!);
      expect(scatterShares[3]).toBeGreaterThan(SCATTER_SHARES[3]!);
    }
  });

  it("expects a step where the other channels step, and hardly where they do not", () => {
    const chanceOf = (sizes: readonly number[]) =>
      commonTraits(
        sizes.map((size, k) => stepped(k + 1, size)),
        WITHIN_S,
      )[0]!.setShares[1]!;
    expectClose(chanceOf([6]), 0.2, { absolute: 1e-12 });
    // Nine channels that step beside three thought of beforehand: (3 × 0.2 + 9) / 12 = 0.8.
    expectClose(chanceOf([6, ...new Array<number>(9).fill(60)]), 0.8, { absolute: 0.01 });
    expect(chanceOf([6, ...new Array<number>(9).fill(0)])).toBeLessThan(0.2);
  });
});
