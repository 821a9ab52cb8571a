import { choleskyFactor } from "../../../../numerics/algebra/cholesky.js";
import type { DifferenceModel, ModelInput } from "../line/difference-model.js";
import { type ChangeProfile, SIZES } from "../ratio/change-profiles.js";
import { logSum, profileLogs } from "../ratio/profile-likelihood.js";
import type { GroundScores } from "../scan/ground-scores.js";
import type { ScannedStretch, StretchScan } from "../scan/stretch-scan.js";
import type { ExplainedStretch } from "./explained-stretch.js";
import { type ExplainedOffset, withGroundRivals } from "./ground-rivals.js";
import { type FindOptions, LineSearch } from "./line-search.js";
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
  /** Stretches that differ by more than noise, and neither as the ground nor as an offset would. */
  readonly unexplained: readonly ScannedStretch[];
  readonly model: DifferenceModel;
  readonly scores: GroundScores;
  readonly scan: StretchScan;
}

/**
 * Explains the difference along the line stretch by stretch, the most telling first (`LineSearch`);
 * what is found is then described on the line without all of it.
 */
export function explainedLine(
  input: ModelInput,
  profiles: readonly ChangeProfile[],
  options: FindOptions,
): ExplainedLine {
  const search = new LineSearch(input, profiles, options);
  const { now, found, open, changed } = search.run();
  const described = (one: ScannedStretch): GroundStretch => {
    const { data, why } = search.explained(now, one);
    return { ...one, data, why, sign: signOf(data, profiles) };
  };
  const explain = { profiles, mismatch_m: options.mismatch_m };
  return {
    ...now,
    stretches: joined(found, described, options.join),
    offsets: withGroundRivals(input, { state: now, changed }, explain),
    unexplained: open,
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
