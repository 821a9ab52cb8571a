import { firstOf, lastOf, neighbours, valueAt, zipped } from "../../numerics/arrays.js";
import { sortedQuantile } from "../../numerics/robust.js";
import { runsWhere } from "../../numerics/runs.js";
import { fateOf } from "../../survey/account/reading-status.js";
import type { Campaign, Centreline, Pass, Survey } from "../../survey/survey.js";
import type { CampaignPlacement } from "../place-campaign.js";
import type { PassPlacement } from "../walk/finish-pass.js";
import { courseOf } from "../walk/shift-in-time.js";

/** How one pass covers the bank. */
export interface PassCoverage {
  readonly campaign: string;
  readonly file: string;
  readonly readings: number;
  /** Readings in use. */
  readonly used: number;
  /** The whole bank in order, cut where the pass has readings, bridged ones only, or none. */
  readonly stretches: readonly CoveredStretch[];
  /** Metres between neighbours; null without any. */
  readonly spacing_m: QuantileRange | null;
  /** Walking speed, m/s; null without times or positions. */
  readonly speed_m_per_s: QuantileRange | null;
  /** Pauses of more than a minute, and the longest, s. */
  readonly pauses: number;
  readonly longestPause_s: number;
  readonly placement: PassPlacement;
  readonly channels: readonly ChannelCoverage[];
  /** Along the bank in pieces of equal length, for figures. */
  readonly profile: CoverageProfile;
}

/** A stretch of the bank by its chainages. */
export interface Range {
  readonly from_m: number;
  readonly to_m: number;
}

export interface CoveredStretch extends Range {
  readonly kind: "measured" | "bridged" | "none";
}

/** What nine of ten values lie between, and the middle one. */
export interface QuantileRange {
  readonly p5: number;
  readonly median: number;
  readonly p95: number;
}

export interface ChannelCoverage {
  readonly field: string;
  /** Readings without a value, %. */
  readonly missing_pct: number;
}

export interface CoverageProfile {
  readonly chainage_m: readonly number[];
  /** Mean metres between readings and mean walking speed; NaN where there are none. */
  readonly spacing_m: readonly number[];
  readonly speed_m_per_s: readonly number[];
}

/** Readings further apart than this leave a stretch uncovered, m. */
const CELL_M = 5;
const PAUSE_S = 60;
const PROFILE_PIECES = 160;

/** Stretches of the bank where a pass has no readings in use. */
export function emptyStretches({ stretches }: PassCoverage): readonly CoveredStretch[] {
  return stretches.filter(({ kind }) => kind === "none");
}

export function totalLength_m(stretches: readonly Range[]): number {
  return stretches.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0);
}

/** What each pass covers, campaign by campaign. */
export function coverageOf(
  survey: Survey,
  placements: readonly CampaignPlacement[],
): readonly PassCoverage[] {
  return zipped(survey.campaigns, placements).flatMap(([campaign, placement]) =>
    zipped(campaign.passes, placement.passes).map(([pass, own], p) => {
      const isUsed = (row: number) => fateOf(campaign, p, row).fate !== "set aside";
      const inUse = Uint8Array.from(pass.row, (_, row) => (isUsed(row) ? 1 : 0));
      return passCoverage({ survey, campaign, pass, inUse, placement: own });
    }),
  );
}

interface CoveringPass {
  readonly survey: Survey;
  readonly campaign: Campaign;
  readonly pass: Pass;
  /** n entries: 1 where the reading is in use. */
  readonly inUse: Uint8Array;
  readonly placement: PassPlacement;
}

function passCoverage(covering: CoveringPass): PassCoverage {
  const { survey, campaign, pass, inUse, placement } = covering;
  const steps = stepsOf(pass);
  return {
    campaign: campaign.label,
    file: pass.file,
    readings: pass.count,
    used: inUse.reduce((sum, one) => sum + one, 0),
    stretches: stretchesOf(survey.centreline, pass, inUse),
    spacing_m: quantileRange(steps.map(({ way_m }) => way_m)),
    speed_m_per_s: quantileRange(steps.map(({ way_m, time_s }) => way_m / time_s)),
    ...pausesOf(pass),
    placement,
    channels: zipped(pass.instrument.channels, pass.values).map(([{ field }, column]) => ({
      field,
      missing_pct: (100 * column.filter(Number.isNaN).length) / pass.count,
    })),
    profile: profileOf(survey.centreline, steps),
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

/** What a cell of the bank holds, from the least to the most. */
const KINDS = ["none", "bridged", "measured"] as const;

function stretchesOf(
  centreline: Centreline,
  pass: Pass,
  inUse: Uint8Array,
): readonly CoveredStretch[] {
  const { first_m, last_m } = endsOf(centreline);
  const n = Math.max(1, Math.round((last_m - first_m) / CELL_M));
  const cells = new Float64Array(n);
  for (const [i, x] of pass.chainage_m.entries()) {
    if (!(x >= first_m && x <= last_m) || inUse[i] === 0) continue;
    const at = Math.min(n - 1, Math.floor((x - first_m) / CELL_M));
    cells[at] = Math.max(valueAt(cells, at), pass.positionBridged?.[i] === 1 ? 1 : 2);
  }
  const runs = KINDS.flatMap((kind, level) =>
    runsWhere(cells, (cell) => cell === level).map((run) => ({ ...run, kind })),
  );
  return runs
    .sort((one, other) => one.first - other.first)
    .map(({ first, last, kind }) => ({
      from_m: first_m + first * CELL_M,
      to_m: last + 1 === n ? last_m : first_m + (last + 1) * CELL_M,
      kind,
    }));
}

function endsOf({ chainage_m }: Centreline) {
  return { first_m: firstOf(chainage_m), last_m: lastOf(chainage_m) };
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
