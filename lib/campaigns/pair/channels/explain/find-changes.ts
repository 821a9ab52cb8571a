import { choleskyFactor } from "../../../../numerics/algebra/cholesky.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { heightSteps } from "../line/height-steps.js";
import { type ChangeProfile, profileCovariance, SIZES } from "../ratio/change-profiles.js";
import { logSum, profileLogs } from "../ratio/profile-likelihood.js";
import type { ScannedStretch, StretchScan } from "../scan/stretch-scan.js";
import { type ExplainedStretch, explainedStretch } from "./explained-stretch.js";
import { type ExplainedOffset, withGroundRivals } from "./ground-rivals.js";
import { fittedState, type LineState, scanned } from "./line-state.js";
import { offsetOf, withOffset } from "./offset-choice.js";
import type { StretchData } from "./stretch-data.js";

/** A stretch whose channels changed as the ground makes them. */
export interface GroundStretch extends ScannedStretch, ExplainedStretch {
  /** 1 where resistivity rose, −1 where it fell. */
  readonly sign: 1 | -1;
}

/** The line explained, stretch by stretch. */
export interface ExplainedLine {
  readonly stretches: readonly GroundStretch[];
  readonly offsets: readonly ExplainedOffset[];
  readonly model: DifferenceModel;
  readonly scan: StretchScan;
}

export interface FindOptions {
  readonly q: number;
  /** Stations: the shortest stretch, and the gap that is closed between two. */
  readonly least: number;
  readonly join: number;
  readonly mismatch_m: number;
  /** Stations at which a walk, an operator or an instrument begins or ends. */
  readonly ends: readonly number[];
}

/** Log odds of a change of the ground from which on it is stated: under it, it is of no size. */
const LEAST_EVIDENCE = 3;
/** More stretches than this are not looked for. */
const MOST = 60;

/**
 * Explains the difference along the line stretch by stretch, the most telling first: each time all
 * channels are fitted anew without the stretches found, the line is scanned, and the best stretch
 * is given to the ground, or to an offset of height or zeros, by evidence.
 */
export function explainedLine(
  input: ModelInput,
  profiles: readonly ChangeProfile[],
  options: FindOptions,
): ExplainedLine {
  const n = input.pair.chainage_m.length;
  const state = { ...options, prior: profileCovariance(profiles) };
  const explain = { profiles, mismatch_m: options.mismatch_m };
  const explained = (at: LineState, { first, last }: ScannedStretch) =>
    explainedStretch(input, { ...at, first, last }, explain);
  const taken = new Uint8Array(n);
  let changed = new Uint8Array(n);
  const found: ScannedStretch[] = [];
  const offsets = heightSteps(input, options.ends);
  let now = fittedState(input, { taken, changed, offsets }, state);
  for (let round = 0; round < MOST; round++) {
    const nominee = now.scan.best();
    if (nominee === null) break;
    // The test leaves the nominee out of fit and noise, so that it does not hide itself.
    const mask = changed.slice().fill(1, nominee.first, nominee.last + 1);
    const known = now.model.offsets;
    const without = fittedState(input, { taken, changed: mask, offsets: known }, state);
    const best = without.scan.testedNominee(nominee);
    if (best === null || !(best.p <= options.q)) break;
    const { why } = explained(without, best);
    const offset = offsetOf(best, why, { ...options, n, spacing_m: input.pair.spacing_m });
    const more = withOffset(known, offset);
    if (more !== null) {
      now = fittedState(input, { taken, changed, offsets: more }, state);
      continue;
    }
    taken.fill(1, best.first, best.last + 1);
    const isChange = offset === null && why.ground >= LEAST_EVIDENCE;
    if (isChange) {
      found.push(best);
      changed = mask;
    }
    now = scanned(isChange ? without : now, { taken, changed }, state);
  }
  const described = (one: ScannedStretch): GroundStretch => {
    const { data, why } = explained(now, one);
    return { ...one, data, why, sign: signOf(data, profiles) };
  };
  return {
    ...now,
    stretches: joined(found, described, options.join),
    offsets: withGroundRivals(input, { state: now, changed }, explain),
  };
}

/** Neighbours that go one way and lie within `join` stations of each other are one. */
function joined(
  found: readonly ScannedStretch[],
  described: (one: ScannedStretch) => GroundStretch,
  join: number,
): readonly GroundStretch[] {
  const out: GroundStretch[] = [];
  for (const one of found.toSorted((a, b) => a.first - b.first)) {
    const here = described(one);
    const before = out.at(-1);
    if (before?.sign !== here.sign || here.first - before.last - 1 > join) {
      out.push(here);
      continue;
    }
    const { ratio, p } = before.ratio > here.ratio ? before : here;
    const union = described({ first: before.first, last: here.last, ratio, p });
    out[out.length - 1] = { ...union, p: Math.min(p, union.p) };
  }
  return out;
}

/** Whether resistivity rose (1) or fell (−1), by the likelihood of all profiles and sizes. */
function signOf(data: StretchData, profiles: readonly ChangeProfile[]): 1 | -1 {
  const factor = choleskyFactor(data.covariance, data.value.length);
  const logs = profileLogs(data, factor, { profiles, byLayer: data.byLayer });
  const of = (side: 1 | -1) => logSum(logs.filter((_, at) => SIZES[at % SIZES.length]! * side > 0));
  return of(1) > of(-1) ? 1 : -1;
}
