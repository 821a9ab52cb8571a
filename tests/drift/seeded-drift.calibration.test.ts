import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import type { DriftCorrected } from "../../lib/drift/drift.js";
import type { DriftOptions } from "../../lib/drift/options.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { straightChange } from "../support/drift-kinds.js";
import { type DriftTruth, drifting, level, manyVisits_h } from "../support/drifting.js";

const checkError = 12 / Math.sqrt(12);
const seeds = Array.from({ length: 60 }, (_, i) => 1000 + i);

/** Linear, warming up, waving, stepped and steady, each with figures of its own. */
function truthsOf(seed: number): readonly DriftTruth[] {
  const random = seededRandom(seed);
  const [warm, hours] = [75 + 150 * random.uniform(), 0.4 + 0.8 * random.uniform()];
  const [wave, period] = [20 + 40 * random.uniform(), 2 + 2 * random.uniform()];
  const phase = 2 * Math.PI * random.uniform();
  const waveAt = (h: number) => wave * Math.sin((2 * Math.PI * h) / period + phase);
  const up = random.uniform() < 0.5 ? -1 : 1;
  return [
    { perHour: 80 + 60 * random.normal(), step: 0 },
    { perHour: 0, step: 0, bend: (h) => warm * (1 - Math.exp(-h / hours)) },
    { perHour: 30, step: 0, bend: (h) => waveAt(h) - waveAt(0) },
    { perHour: -140 * random.uniform(), step: up * (30 + 60 * random.uniform()) },
    { perHour: 0, step: 0 },
  ];
}

interface Leftover {
  /** Change over the walk of the straight line through what is left, ppm. */
  readonly trend: number;
  readonly rms: number;
  /** Share of readings whose leftover lies within two of its stated standard deviations. */
  readonly covered: number;
}

function leftover({ passes }: DriftCorrected, c: number): Leftover {
  const { time_s, values, driftSd } = passes[0]!;
  const left = values[c]!.map((value) => value - level);
  const mean = (list: Float64Array) => list.reduce((sum, one) => sum + one, 0) / list.length;
  const within = left.filter((one, i) => Math.abs(one) <= 2 * driftSd![c]![i]!);
  return {
    trend: straightChange(time_s, left),
    rms: Math.sqrt(mean(left.map((one) => one * one))),
    covered: within.length / left.length,
  };
}

const runs = (options: Partial<DriftOptions>) =>
  seeds.map((seed) => {
    const sketch = { seed, truth: truthsOf(seed), visits_h: manyVisits_h };
    return correctDrift(drifting(sketch), options).value;
  });
const auto = runs({});
const straight = runs({ model: "piecewise-linear" });
const average = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const of = (values: readonly DriftCorrected[], c: number) => values.map((one) => leftover(one, c));

// 60 surveys, the straight line left in them. By how much the whole leftover bends, and how often
// it is under the checks' own error, is in trend-left.calibration.test.ts.
describe("correctDrift on seeded surveys that drift in many ways", () => {
  it.each([
    ["linear", 0],
    ["warming up", 1],
    ["waving", 2],
    ["stepped", 3],
  ])("leaves no trend beyond the checks' own error in nine of ten (%s)", (_, c) => {
    const limit = 2 * Math.SQRT2 * checkError;
    const good = of(auto, c).filter(({ trend }) => trend < limit);
    expect(good.length / seeds.length).toBeGreaterThanOrEqual(0.9);
  });

  it.each([
    ["linear", 0],
    ["warming up", 1],
    ["waving", 2],
    ["stepped", 3],
  ])("leaves no more than straight pieces do (%s)", (_, c) => {
    const [chosen, pieces] = [auto, straight].map((one) => average(of(one, c).map((l) => l.rms)));
    expect(chosen).toBeLessThan(1.02 * pieces!);
  });

  it("does not make a steady channel worse than its checks are known", () => {
    expect(auto.filter(({ drift }) => drift[4]!.model === "none").length).toBeGreaterThan(55);
    for (const { rms } of of(auto, 4)) expect(rms).toBeLessThan(2 * Math.SQRT2 * checkError);
  });

  it("states uncertainties that hold what is left nine times in ten", () => {
    for (let c = 0; c < 5; c++) {
      expect(average(of(auto, c).map(({ covered }) => covered))).toBeGreaterThan(0.9);
    }
  });

  it("hands on uncertainties that are not idle either", () => {
    // Two checks' errors are the most that a curve close to its checks needs, bends aside.
    const typical = auto.map(({ passes }) => average([...passes[0]!.driftSd![0]!]));
    expect(average(typical)).toBeLessThan(2 * Math.SQRT2 * checkError);
    expect(average(typical)).toBeGreaterThan(0.3 * checkError);
  });

  it("names the model taken, and how each misses checks left out", () => {
    for (const { drift } of auto) {
      for (const { model, leftOut, from } of drift) {
        expect(from).toBe("base checks");
        for (const miss of Object.values(leftOut)) expect(miss).toBeGreaterThan(0);
        expect(model).toMatch(/^(none|average|random-walk|smoothing-spline|piecewise-linear)$/);
      }
    }
  });
});
