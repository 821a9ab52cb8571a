import { depthSlicesFaults, rangeFault } from "../../depth/check-depth-slices.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";

export interface TrendOptions {
  /**
   * "majority" takes off each campaign's median ratio to the first campaign over the stations
   * without a trend: a season or an instrument that shifts the whole line is then no trend. "none"
   * leaves it. Default "majority".
   */
  readonly level: "majority" | "none";
  /** Length of the moving mean along the line, m, ≥ 0; 0 for none. Default 20. */
  readonly smoothing_m: number;
  /** Each campaign is brought to the first one's chainage by shifts up to this, m, 0 … 20. Default 4. */
  readonly alignWithin_m: number;
  /** Greatest probability that any reported stretch is there by chance, > 0 and < 1. Default 0.05. */
  readonly q: number;
  /** Stretches of one direction that are nearer than this are one, m, ≥ 0. Default 10. */
  readonly joinWithin_m: number;
  /** Shorter stretches are not reported, m, ≥ 0. Default 12. */
  readonly minLength_m: number;
  /** Orders of the campaigns that are drawn for seven campaigns or more, 99 … 99999. Default 999. */
  readonly draws: number;
  /** Seed of the drawn orders, a whole number. Default 1. */
  readonly seed: number;
}

export const trendDefaults: Readonly<TrendOptions> = Object.freeze({
  level: "majority",
  smoothing_m: 20,
  alignWithin_m: 4,
  q: 0.05,
  joinWithin_m: 10,
  minLength_m: 12,
  draws: 999,
  seed: 1,
});

/** Throws a StepError with every fault of the campaigns and the options. */
export function refuseBadTrend(given: readonly DepthSlices[], used: TrendOptions): void {
  const faults: Fault[] = [
    ...campaignsFaults(given, 3),
    ...levelFault(used.level),
    ...rangeFault("smoothing_m", used.smoothing_m, { from: 0 }),
    ...rangeFault("alignWithin_m", used.alignWithin_m, { from: 0, upTo: 20 }),
    ...rangeFault("q", used.q, { above: 0, upTo: 0.999 }),
    ...rangeFault("joinWithin_m", used.joinWithin_m, { from: 0 }),
    ...rangeFault("minLength_m", used.minLength_m, { from: 0 }),
    ...rangeFault("draws", used.draws, { from: 99, upTo: 99999 }),
    ...rangeFault("seed", used.seed, { from: 0 }),
    ...unknownOptions(used, trendDefaults),
  ];
  if (faults.length > 0) throw new StepError("trendOverCampaigns", faults);
}

/** Faults of the campaigns of a step that needs at least `least` of them. */
export function campaignsFaults(given: readonly DepthSlices[], least: number): Fault[] {
  if (given.length < least) {
    const expected = `at least ${least} campaigns`;
    return [{ code: "length", path: "slices", expected, received: String(given.length) }];
  }
  return given.flatMap((one, c) => [
    ...depthSlicesFaults(one, `slices[${c}]`),
    ...pairFaults(given[0]!, one, c),
  ]);
}

function pairFaults(first: DepthSlices, one: DepthSlices, c: number): Fault[] {
  const faults: Fault[] = [];
  if (!(Math.abs(first.spacing_m - one.spacing_m) <= 1e-9)) {
    const expected = `the first campaign's spacing (${first.spacing_m} m), so that stations are shared`;
    const received = quoted(one.spacing_m);
    faults.push({ code: "spacing", path: `slices[${c}].spacing_m`, expected, received });
  }
  if (Number.isNaN(one.time_s)) {
    const expected = "the campaign's mean time, s since 1970";
    faults.push({ code: "time", path: `slices[${c}].time_s`, expected, received: "NaN" });
  }
  return faults;
}

export function levelFault(level: string): Fault[] {
  if (level === "majority" || level === "none") return [];
  const expected = '"majority" or "none"';
  return [{ code: "option-value", path: "options.level", expected, received: quoted(level) }];
}
