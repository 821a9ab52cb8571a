import { valueAt, zipped } from "../numerics/arrays.js";
import { runsWhere } from "../numerics/runs.js";
import { orNull, presentMean } from "../numerics/statistics/present.js";
import type { Survey } from "../survey/survey.js";
import type { Cells, Presence } from "./evidence.js";
import { exitGradientOf } from "./exit-gradient.js";
import type { SeepageOptions } from "./options.js";
import type { EvidencePiece, SeepageZone, ZoneEvidence } from "./seepage.js";

/** n cells along chainage with their scores, log-odds, and the evidence behind them. */
export interface Scored {
  readonly cells: Cells;
  readonly score: Float64Array;
  readonly pieces: readonly EvidencePiece[];
  readonly presences: readonly Presence[];
}

/** Runs of cells whose score reaches that of `zoneFrom`, the strongest first. */
export function rankedZones(scored: Scored, survey: Survey, used: SeepageOptions): SeepageZone[] {
  const runs = runsAbove(scored.score, logit(used.zoneFrom), used);
  const zones = runs.map(([first, last]) => {
    const { chainage_m, half_m } = scored.cells;
    const from_m = valueAt(chainage_m, first) - half_m;
    const to_m = valueAt(chainage_m, last) + half_m;
    const score = meanOf(scored.score, first, last);
    const probability = 1 / (1 + Math.exp(-score));
    const evidence = zipped(scored.pieces, scored.presences).map(([piece, presence]) =>
      zoneEvidence(piece, presence, { first, last, from_m, to_m }),
    );
    const section = survey.crossSectionAt((from_m + to_m) / 2);
    const exitGradient = exitGradientOf(section, survey.designWaterLevel_m, {
      ...used.blanket,
      seed: used.seed,
    });
    return {
      from_m,
      to_m,
      score,
      probability,
      band: bandOf(probability, used),
      evidence,
      exitGradient,
    };
  });
  zones.sort((one, two) => two.score - one.score || one.from_m - two.from_m);
  return zones.map((zone, i) => ({ rank: i + 1, ...zone }));
}

function runsAbove(
  score: Float64Array,
  limit: number,
  used: SeepageOptions,
): readonly (readonly [number, number])[] {
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
  const value = orNull(presentMean(piece.value.subarray(at.first, at.last + 1)));
  const statement =
    value === null ? "Not known here." : presence.statement(value, at.from_m, at.to_m);
  return { name: piece.name, weight: meanOf(piece.weight, at.first, at.last), value, statement };
}

function meanOf(values: Float64Array, first: number, last: number): number {
  return presentMean(values.subarray(first, last + 1));
}

function bandOf(probability: number, used: SeepageOptions): "low" | "moderate" | "high" {
  if (probability >= used.bands.high) return "high";
  return probability >= used.bands.moderate ? "moderate" : "low";
}

/** Log-odds of a probability. */
export function logit(p: number): number {
  return Math.log(p / (1 - p));
}
