import { describe, it } from "vitest";
import type { DriftDatum } from "../../../lib/drift/checks/drift-datum.js";
import { dataCovariance } from "../../../lib/drift/kriging/drift-covariance.js";
import {
  type DriftProcess,
  randomWalk,
  smoothingSpline,
} from "../../../lib/drift/kriging/drift-process.js";
import {
  type KrigedDrift,
  krigeDrift,
  leaveOneOutOf,
  riseBetween,
  trendFrame,
} from "../../../lib/drift/kriging/krige-drift.js";
import { solveDrift } from "../../../lib/drift/kriging/solve-drift.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const hours = [0, 0.4, 0.9, 1.5, 1.7, 2.6];
function dataFrom(seed: number): readonly DriftDatum[] {
  const random = seededRandom(seed);
  return hours.map((hour) => {
    const value = 20 * hour + 15 * Math.sin(hour) + 3 * random.normal();
    return { time_s: 3600 * hour, minus_s: Number.NaN, value, error: 2 + random.uniform() };
  });
}

/** A fit at one rate, without averaging. */
function atRate(data: readonly DriftDatum[], process: DriftProcess, rate: number): KrigedDrift {
  const frame = { ...trendFrame(data, []), process };
  const solved = solveDrift(frame, dataCovariance(frame, process), rate);
  return { frame, solved: [solved], weight: [1], rate, logLikelihood: solved.logLikelihood };
}

type Matrix = readonly (readonly number[])[];
const product = (a: Matrix, b: Matrix): number[][] =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, one, k) => sum + one * b[k]![j]!, 0)));
const turned = (a: Matrix): number[][] => a[0]!.map((_, j) => a.map((row) => row[j]!));
const plus = (a: Matrix, b: Matrix, sign = 1): number[][] =>
  a.map((row, i) => row.map((one, j) => one + sign * b[i]![j]!));
const inverse2 = (matrix: Matrix): number[][] => {
  const [a, b, c, d] = matrix.flat() as [number, number, number, number];
  const det = a * d - b * c;
  return [
    [d / det, -b / det],
    [-c / det, a / det],
  ];
};

/** The textbook filter and smoother (Rauch, Tung & Striebel 1965) over level and slope. */
function kalmanLevels(data: readonly DriftDatum[], noise: (gap_h: number) => Matrix): number[] {
  const wide = 1e9;
  let mean: Matrix = [[0], [0]];
  let spread: Matrix = [
    [wide, 0],
    [0, wide],
  ];
  const filtered: {
    mean: Matrix;
    spread: Matrix;
    predicted: Matrix;
    before: Matrix;
    move: Matrix;
  }[] = [];
  for (const [i, { time_s, value, error }] of data.entries()) {
    const gap_h = i === 0 ? 0 : (time_s - data[i - 1]!.time_s) / 3600;
    const move = [
      [1, gap_h],
      [0, 1],
    ];
    const predicted = product(move, mean);
    const before = plus(product(product(move, spread), turned(move)), noise(gap_h));
    const total = before[0]![0]! + error ** 2;
    const gain = [[before[0]![0]! / total], [before[1]![0]! / total]];
    mean = plus(predicted, product(gain, [[value - predicted[0]![0]!]]));
    spread = plus(before, product(gain, [before[0]!]), -1);
    filtered.push({ mean, spread, predicted, before, move });
  }
  const levels = [filtered.at(-1)!.mean[0]![0]!];
  let later = filtered.at(-1)!.mean;
  for (let i = data.length - 2; i >= 0; i--) {
    const next = filtered[i + 1]!;
    const back = product(product(filtered[i]!.spread, turned(next.move)), inverse2(next.before));
    later = plus(filtered[i]!.mean, product(back, plus(later, next.predicted, -1)));
    levels.unshift(later[0]![0]!);
  }
  return levels;
}

const walkNoise = (rate: number) => (h: number) => [
  [rate * h, 0],
  [0, 0],
];
const splineNoise = (rate: number) => (h: number) => [
  [(rate * h ** 3) / 3, (rate * h ** 2) / 2],
  [(rate * h ** 2) / 2, rate * h],
];

describe("fitWander", () => {
  it.each([
    ["random walk", randomWalk, walkNoise],
    ["smoothing spline", smoothingSpline, splineNoise],
  ] as const)("gives what a Kalman smoother gives (%s)", (_, process, noise) => {
    for (const rate of [0.5, 40, 3000]) {
      const data = dataFrom(rate);
      const levels = kalmanLevels(data, noise(rate));
      const fit = atRate(data, process, rate);
      for (const [i, { time_s }] of data.entries()) {
        // The filter starts with a wide, not a diffuse, state: 1e9 against errors of 1 to 10.
        const { mean } = riseBetween(fit, 0, time_s);
        expectClose(mean, levels[i]! - levels[0]!, { absolute: 1e-4 });
      }
    }
  });

  it("is the straight line of least squares where nothing wanders", () => {
    const data = hours.map((hour) => {
      return { time_s: 3600 * hour, minus_s: Number.NaN, value: 7 * hour - 2, error: 1 };
    });
    const { mean, sd } = riseBetween(atRate(data, randomWalk, 0), 0, 3600);
    expectClose(mean, 7, { absolute: 1e-9 });
    // Slope's standard error: 1 / sqrt(Σ (t − mean)²).
    const middle = hours.reduce((a, b) => a + b, 0) / hours.length;
    const spread = hours.reduce((sum, h) => sum + (h - middle) ** 2, 0);
    expectClose(sd, 1 / Math.sqrt(spread), { relative: 1e-9 });
  });

  it("misses each left-out datum as a fit without it does", () => {
    const data = dataFrom(5);
    const misses = leaveOneOutOf(atRate(data, randomWalk, 30));
    for (let i = 1; i < data.length; i++) {
      const others = data.filter((_, j) => j !== i);
      const { mean } = riseBetween(atRate(others, randomWalk, 30), 0, data[i]!.time_s);
      // The level at hour 0 of the others' fit: their first datum less its own residual.
      const fit = atRate(others, randomWalk, 30);
      const level = fit.solved[0]!.estimates[0]!;
      expectClose(misses[i]!, data[i]!.value - level - mean, { absolute: 1e-6 });
    }
  });

  it("determines a step from differences alone", () => {
    const data = [0.2, 0.4, 0.6, 0.8].flatMap((hour) => {
      const pair = { minus_s: 3600 * hour, error: 0.5 };
      return [
        { ...pair, time_s: 3600 * (hour + 1), value: 10 + 25 },
        { ...pair, time_s: 3600 * (hour + 0.1), value: 1 },
      ];
    });
    const fit = krigeDrift(data, [3600], randomWalk);
    const { mean } = riseBetween(fit, 3600, 3601);
    expectClose(mean, 25, { absolute: 1.5 });
  });
});
