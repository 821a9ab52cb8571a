import { valueAt, zipped } from "../numerics/arrays.js";
import { runsWhere } from "../numerics/runs.js";
import { orNull, presentMean } from "../numerics/statistics/present.js";
import { bandOf, logit, probabilityOf } from "./bands.js";
import type { Cells, Presence } from "./evidence/piece.js";
import type { SeepageOptions } from "./options.js";
import type {
  EvidenceName,
  EvidencePiece,
  SeepageZone,
  UsedWeight,
  ZoneEvidence,
} from "./seepage.js";
import { type Stability, stabilityOf } from "./stability.js";

/** n cells along chainage with their scores, log-odds, and the evidence behind them. */
export interface Scored {
  readonly cells: Cells;
  readonly score: Float64Array;
  readonly pieces: readonly EvidencePiece[];
  readonly presences: readonly Presence[];
  readonly weights: Readonly<Record<EvidenceName, UsedWeight>>;
}

/** A zone without what hydraulics say of it. */
export type ScoredZone = Omit<SeepageZone, "exitGradient" | "gradientWhy" | "hydraulics">;

/** Runs of cells whose score reaches that of `zoneFrom`, the strongest first. */
export function rankedZones(scored: Scored, used: SeepageOptions): readonly ScoredZone[] {
  const zones = zoneRuns(scored.score, used).map((run) => zoneOf(scored, run, used));
  const ranked = zones.toSorted((one, two) => two.score - one.score || one.from_m - two.from_m);
  const stability = stabilityOf(ranked, scored.weights, used);
  return zipped(ranked, stability).map(([zone, stable], i) => ({
    rank: i + 1,
    ...zone,
    ...stable,
  }));
}

type BareZone = Omit<ScoredZone, "rank" | keyof Stability>;

function zoneOf(
  { cells, score: scores, pieces, presences }: Scored,
  [first, last]: Run,
  used: SeepageOptions,
): BareZone {
  const from_m = valueAt(cells.chainage_m, first) - cells.half_m;
  const to_m = valueAt(cells.chainage_m, last) + cells.half_m;
  const score = meanOf(scores, first, last);
  const probability = probabilityOf(score);
  const evidence = zipped(pieces, presences).map(([piece, presence]) =>
    zoneEvidence(piece, presence, { first, last, from_m, to_m }),
  );
  return { from_m, to_m, score, probability, band: bandOf(probability, used), evidence };
}

type Run = readonly [first: number, last: number];

/** Runs of cells at `zoneFrom` or above, near ones joined, short ones dropped. */
export function zoneRuns(score: Float64Array, used: SeepageOptions): readonly Run[] {
  const limit = logit(used.zoneFrom);
  const runs: [number, number][] = [];
  for (const { first, last } of runsWhere(score, (value) => value >= limit)) {
    const before = runs.at(-1);
    if (before !== undefined && (first - before[1] - 1) * used.cell_m <= used.joinWithin_m)
      before[1] = last;
    else runs.push([first, last]);
  }
  return runs.filter(([first, last]) => (last - first + 1) * used.cell_m >= used.minLength_m);
}

function zoneEvidence(
  piece: EvidencePiece,
  presence: Presence,
  at: {
    readonly first: number;
    readonly last: number;
    readonly from_m: number;
    readonly to_m: number;
  },
): ZoneEvidence {
  const { name, source } = piece;
  const value = orNull(presentMean(piece.value.subarray(at.first, at.last + 1)));
  const { unknown = "Not known here." } = presence;
  const statement = value === null ? unknown : presence.statement(value, at);
  return { name, weight: meanOf(piece.weight, at.first, at.last), value, statement, source };
}

function meanOf(values: Float64Array, first: number, last: number): number {
  return presentMean(values.subarray(first, last + 1));
}
