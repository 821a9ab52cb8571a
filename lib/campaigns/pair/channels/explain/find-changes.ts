import { choleskyFactor } from "../../../../numerics/algebra/cholesky.js";
import {
  type DifferenceModel,
  differenceModel,
  type ModelInput,
} from "../line/difference-model.js";
import { heightSteps } from "../line/height-steps.js";
import type { Offset } from "../line/offsets.js";
import { type ChangeProfile, profileCovariance, SIZES } from "../ratio/change-profiles.js";
import { logSum, profileLogs } from "../ratio/profile-likelihood.js";
import { groundScores } from "../scan/ground-scores.js";
import { type ScannedStretch, StretchScan } from "../scan/stretch-scan.js";
import { type Explanations, explanations } from "./explanations.js";
import { type StretchData, stretchData } from "./stretch-data.js";

/** A stretch whose channels changed as the ground makes them. */
export interface GroundStretch extends ScannedStretch {
  readonly data: StretchData;
  readonly why: Explanations;
  /** 1 where resistivity rose, −1 where it fell. */
  readonly sign: 1 | -1;
}

/** The line explained, stretch by stretch. */
export interface ExplainedLine {
  readonly stretches: readonly GroundStretch[];
  readonly offsets: readonly Offset[];
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

/** Errors of heights: an offset's effect as a share of it, and how evenly coils are carried, m. */
const HEIGHTS = { offsetError: 0.1, height_m: 0.01 };
/** Log odds that a stretch between two ends of walks differs by an offset. */
const TO_AN_END = 1;
/**
 * The same of a long stretch within a walk: there and back to the same height is rare, but over some
 * metres coils are carried unsteadily.
 */
const WITHIN = -6;
const LONG_M = 50;
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
  const prior = profileCovariance(profiles);
  const taken = new Uint8Array(n);
  let changed = new Uint8Array(n);
  const stateOf = (mask: Uint8Array, offsets: readonly Offset[]): State => {
    const model = differenceModel(input, mask, offsets);
    const { least, mismatch_m } = options;
    const noise = { taken: taken.slice(), changed: mask, ...HEIGHTS };
    const scan = new StretchScan(groundScores(input, model, prior), {
      least,
      mismatch_m,
      ...noise,
    });
    return { model, scan };
  };
  const found: ScannedStretch[] = [];
  let now = stateOf(changed, heightSteps(input, options.ends));
  for (let round = 0; round < MOST; round++) {
    const nominee = now.scan.best();
    if (nominee === null) break;
    // The test leaves the nominee out of fit and noise, so that it does not hide itself.
    const mask = changed.slice().fill(1, nominee.first, nominee.last + 1);
    const without = stateOf(mask, now.model.offsets);
    const best = without.scan.testedNominee(nominee);
    if (best === null || !(best.p <= options.q)) break;
    const why = explanations(dataOf(input, without, best, options), profiles, sizesOf(input));
    const offset = offsetOf(best, why, { ...options, n, spacing_m: input.pair.spacing_m });
    const known = now.model.offsets;
    if (
      offset !== null &&
      known.length < MOST_OFFSETS &&
      !known.some((one) => alike(one, offset))
    ) {
      now = stateOf(changed, [...known, offset]);
      continue;
    }
    taken.fill(1, best.first, best.last + 1);
    if (offset === null && why.ground >= LEAST_EVIDENCE) {
      found.push(best);
      changed = mask;
    }
    now = stateOf(changed, now.model.offsets);
  }
  const described = (one: ScannedStretch): GroundStretch => {
    const data = dataOf(input, now, one, options);
    const why = explanations(data, profiles, sizesOf(input));
    return { ...one, data, why, sign: signOf(data, profiles) };
  };
  const stretches = joined(found, described, options.join);
  return { stretches, offsets: now.model.offsets, ...now };
}

interface State {
  readonly model: DifferenceModel;
  readonly scan: StretchScan;
}

const MOST_OFFSETS = 8;

/** Whether two stretches share more than half of their length. */
function alike(one: Offset, other: Offset): boolean {
  const shared = Math.min(one.last, other.last) - Math.max(one.first, other.first) + 1;
  return 2 * shared > Math.max(one.last - one.first, other.last - other.first) + 1;
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

const sizesOf = ({ pair }: ModelInput) => ({
  passes: pair.passes,
  channels: pair.channels.length,
});

function dataOf(
  input: ModelInput,
  { model, scan }: State,
  { first, last }: ScannedStretch,
  { mismatch_m }: FindOptions,
): StretchData {
  const length = last - first + 1;
  const edge = Math.min(Math.round(EDGE_M / input.pair.spacing_m), Math.floor(length / 4));
  const [from, to] = [first + edge, last - edge];
  const shifts = input.pair.shiftSd_m.subarray(from, to + 1);
  const shift = shifts.reduce((sum, sd) => sum + sd, 0) / shifts.length;
  return stretchData(input, model, {
    first: from,
    last: to,
    inflation: scan.inflationAt(length),
    mismatch_m: Math.hypot(mismatch_m, shift),
    ...HEIGHTS,
  });
}

/** Stations this near to an end are left out of the effect: the end may lie inside of them, m. */
const EDGE_M = 5;

interface LineEnds {
  readonly ends: readonly number[];
  /** Stations. */
  readonly n: number;
  readonly spacing_m: number;
}

/** The offset that explains a stretch better than the ground does; null where none. */
function offsetOf(
  { first, last }: ScannedStretch,
  { ground, height, zero }: Explanations,
  { ends, n, spacing_m }: LineEnds,
): Offset | null {
  const near = Math.max(4, 0.05 * (last - first + 1));
  const atEnd = [0, n, ...ends].some(
    (end) => Math.abs(end - first) <= near || Math.abs(end - last - 1) <= near,
  );
  const odds = atEnd ? TO_AN_END : WITHIN * Math.min(1, ((last - first + 1) * spacing_m) / LONG_M);
  const best = height.evidence >= zero.evidence ? height : zero;
  if (!(best.evidence + odds > ground)) return null;
  return { first, last, kind: best === height ? "height" : "zero", value: best.value };
}
