import { neighbours, valueAt } from "../../numerics/arrays.js";
import { sortedQuantile } from "../../numerics/statistics/robust.js";
import type { Centreline, Pass } from "../../survey/survey.js";
import { courseOf } from "../walk/shift-in-time.js";
import { CELL_M, endsOf } from "./covered-stretches.js";

/** What nine of ten values lie between, and the middle one. */
export interface QuantileRange {
  readonly p5: number;
  readonly median: number;
  readonly p95: number;
}

/** Along the bank in pieces of equal length. */
interface CoverageProfile {
  readonly chainage_m: readonly number[];
  /** Mean metres between readings and mean walking speed; NaN where there are none. */
  readonly spacing_m: readonly number[];
  readonly speed_m_per_s: readonly number[];
}

export interface WalkedSteps {
  /** Metres between neighbours; null without any. */
  readonly spacing_m: QuantileRange | null;
  /** Walking speed, m/s; null without times or positions. */
  readonly speed_m_per_s: QuantileRange | null;
  /** Pauses of more than a minute, and the longest, s. */
  readonly pauses: number;
  readonly longestPause_s: number;
  readonly profile: CoverageProfile;
}

/** A longer step in time is a pause, s. */
const PAUSE_S = 60;
const PROFILE_PIECES = 160;

/** Spacing and speed of a pass, over all and along the bank, and its pauses. */
export function walkedSteps(pass: Pass, centreline: Centreline): WalkedSteps {
  const steps = stepsOf(pass);
  return {
    spacing_m: quantileRange(steps.map(({ way_m }) => way_m)),
    speed_m_per_s: quantileRange(steps.map(({ way_m, time_s }) => way_m / time_s)),
    ...pausesOf(pass),
    profile: profileOf(centreline, steps),
  };
}

interface WalkedStep {
  readonly at_m: number;
  readonly way_m: number;
  /** NaN without times. */
  readonly time_s: number;
}

/** From each reading with a place to the next row's, pauses left out. */
function stepsOf({ chainage_m, time_s, line }: Pass): readonly WalkedStep[] {
  const steps: WalkedStep[] = [];
  for (const [i, at_m] of chainage_m.entries()) {
    const way_m = Math.abs(at_m - valueAt(chainage_m, i - 1));
    if (Number.isNaN(way_m) || line[i] !== line[i - 1]) continue;
    const duration_s = valueAt(time_s, i) - valueAt(time_s, i - 1);
    if (duration_s > PAUSE_S) continue;
    steps.push({ at_m, way_m, time_s: duration_s > 0 ? duration_s : Number.NaN });
  }
  return steps;
}

function quantileRange(values: readonly number[]): QuantileRange | null {
  const sorted = Float64Array.from(values.filter(Number.isFinite)).sort();
  if (sorted.length === 0) return null;
  const at = (share: number) => sortedQuantile(sorted, share);
  return { p5: at(0.05), median: at(0.5), p95: at(0.95) };
}

function pausesOf({ time_s, chainage_m }: Pass) {
  const pauses = neighbours([...courseOf(time_s, chainage_m).time_s])
    .map(([before_s, after_s]) => after_s - before_s)
    .filter((step_s) => step_s > PAUSE_S);
  return { pauses: pauses.length, longestPause_s: Math.max(0, ...pauses) };
}

function profileOf(centreline: Centreline, steps: readonly WalkedStep[]): CoverageProfile {
  const { first_m, last_m } = endsOf(centreline);
  const piece_m = Math.max(CELL_M, (last_m - first_m) / PROFILE_PIECES);
  const pieces = Array.from({ length: Math.ceil((last_m - first_m) / piece_m) }, (_, k) => ({
    at_m: first_m + (k + 0.5) * piece_m,
    way_m: 0,
    time_s: 0,
    count: 0,
  }));
  for (const { at_m, way_m, time_s } of steps) {
    const piece = pieces[Math.floor((at_m - first_m) / piece_m)];
    if (piece === undefined) continue;
    piece.way_m += way_m;
    piece.time_s += time_s;
    piece.count += 1;
  }
  return {
    chainage_m: pieces.map(({ at_m }) => at_m),
    spacing_m: pieces.map(({ way_m, count }) => (count > 0 ? way_m / count : Number.NaN)),
    speed_m_per_s: pieces.map(({ way_m, time_s }) => (time_s > 0 ? way_m / time_s : Number.NaN)),
  };
}
