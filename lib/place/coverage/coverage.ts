import { sortedQuantile } from "../../numerics/robust.js";
import { fateOf } from "../../survey/account/reading-status.js";
import type { Campaign, Pass, Survey } from "../../survey/survey.js";
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
  /** Metres between neighbours: the middle one, and the one that 95 % stay under; null without. */
  readonly spacing_m: Spread | null;
  /** Walking speed, m/s; null without times or positions. */
  readonly speed_m_per_s: Spread | null;
  /** Pauses of more than a minute, and the longest, s. */
  readonly pauses: number;
  readonly longestPause_s: number;
  readonly placement: PassPlacement;
  readonly channels: readonly ChannelCoverage[];
  /** Along the bank in pieces of equal length, for figures. */
  readonly profile: CoverageProfile;
}

export interface CoveredStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly kind: "measured" | "bridged" | "none";
}

export interface Spread {
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

/** What each pass covers, campaign by campaign. */
export function coverageOf(
  survey: Survey,
  placements: readonly CampaignPlacement[],
): readonly PassCoverage[] {
  return survey.campaigns.flatMap((campaign, c) =>
    campaign.passes.map((_, p) =>
      passCoverage(survey, { campaign, p, placement: placements[c]!.passes[p]! }),
    ),
  );
}

interface Walked {
  readonly campaign: Campaign;
  readonly p: number;
  readonly placement: PassPlacement;
}

function passCoverage(survey: Survey, { campaign, p, placement }: Walked): PassCoverage {
  const pass = campaign.passes[p]!;
  const inUse = Uint8Array.from(pass.row, (_, i) =>
    fateOf(campaign, p, i).fate === "set aside" ? 0 : 1,
  );
  const steps = stepsOf(pass);
  return {
    campaign: campaign.label,
    file: pass.file,
    readings: pass.count,
    used: inUse.reduce((sum, one) => sum + one, 0),
    stretches: stretchesOf(survey, pass, inUse),
    spacing_m: spread(steps.map(({ way_m }) => way_m)),
    speed_m_per_s: spread(steps.map(({ way_m, time_s }) => way_m / time_s)),
    ...pausesOf(pass),
    placement,
    channels: pass.instrument.channels.map(({ field }, k) => ({
      field,
      missing_pct:
        (100 * pass.values[k]!.reduce((n, v) => n + (Number.isNaN(v) ? 1 : 0), 0)) / pass.count,
    })),
    profile: profileOf(survey, steps),
  };
}

interface WalkedStep {
  readonly at_m: number;
  readonly way_m: number;
  /** NaN without times. */
  readonly time_s: number;
}

/** From each reading with a place to the next, pauses and standing left out. */
function stepsOf({ chainage_m, time_s, line }: Pass): readonly WalkedStep[] {
  const steps: WalkedStep[] = [];
  let last = -1;
  for (let i = 0; i < chainage_m.length; i++) {
    if (Number.isNaN(chainage_m[i]!)) continue;
    if (last >= 0 && i - last === 1 && line[i] === line[last]) {
      const duration_s = time_s[i]! - time_s[last]!;
      const way_m = Math.abs(chainage_m[i]! - chainage_m[last]!);
      if (!(duration_s > PAUSE_S)) {
        const isTimed = duration_s > 0;
        steps.push({ at_m: chainage_m[i]!, way_m, time_s: isTimed ? duration_s : Number.NaN });
      }
    }
    last = i;
  }
  return steps;
}

function spread(values: readonly number[]): Spread | null {
  const sorted = Float64Array.from(values.filter(Number.isFinite)).sort();
  if (sorted.length === 0) return null;
  const at = (share: number) => sortedQuantile(sorted, share);
  return { p5: at(0.05), median: at(0.5), p95: at(0.95) };
}

function pausesOf({ time_s, chainage_m }: Pass) {
  const { time_s: times } = courseOf(time_s, chainage_m);
  let [pauses, longestPause_s] = [0, 0];
  for (let k = 1; k < times.length; k++) {
    const step_s = times[k]! - times[k - 1]!;
    if (!(step_s > PAUSE_S)) continue;
    pauses += 1;
    longestPause_s = Math.max(longestPause_s, step_s);
  }
  return { pauses, longestPause_s };
}

function stretchesOf(
  { centreline }: Survey,
  pass: Pass,
  inUse: Uint8Array,
): readonly CoveredStretch[] {
  const { first_m, last_m } = endsOf(centreline.chainage_m);
  const n = Math.max(1, Math.round((last_m - first_m) / CELL_M));
  const cell = new Uint8Array(n);
  for (let i = 0; i < pass.count; i++) {
    const x = pass.chainage_m[i]!;
    if (!(x >= first_m && x <= last_m) || inUse[i] === 0) continue;
    const at = Math.min(n - 1, Math.floor((x - first_m) / CELL_M));
    cell[at] = Math.max(cell[at]!, pass.positionBridged?.[i] === 1 ? 1 : 2);
  }
  const stretches: CoveredStretch[] = [];
  for (let from = 0; from < n; from++) {
    let to = from + 1;
    while (to < n && cell[to] === cell[from]) to++;
    const kind = (["none", "bridged", "measured"] as const)[cell[from]!]!;
    stretches.push({
      from_m: first_m + from * CELL_M,
      to_m: to === n ? last_m : first_m + to * CELL_M,
      kind,
    });
    from = to - 1;
  }
  return stretches;
}

function endsOf(s: Float64Array) {
  return { first_m: s[0]!, last_m: s[s.length - 1]! };
}

function profileOf({ centreline }: Survey, steps: readonly WalkedStep[]): CoverageProfile {
  const { first_m, last_m } = endsOf(centreline.chainage_m);
  const piece_m = Math.max(CELL_M, (last_m - first_m) / PROFILE_PIECES);
  const n = Math.ceil((last_m - first_m) / piece_m);
  const way = new Float64Array(n);
  const time = new Float64Array(n);
  const count = new Float64Array(n);
  for (const { at_m, way_m, time_s } of steps) {
    const at = Math.floor((at_m - first_m) / piece_m);
    if (!(at >= 0 && at < n)) continue;
    way[at]! += way_m;
    time[at]! += time_s;
    count[at]! += 1;
  }
  return {
    chainage_m: Array.from(way, (_, k) => first_m + (k + 0.5) * piece_m),
    spacing_m: Array.from(way, (sum, k) => (count[k]! > 0 ? sum / count[k]! : Number.NaN)),
    speed_m_per_s: Array.from(way, (sum, k) => (time[k]! > 0 ? sum / time[k]! : Number.NaN)),
  };
}
