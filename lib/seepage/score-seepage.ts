import type { Blocks } from "../blocks/blocks.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { cautionsOf, seepageBasis, summaryOf } from "./account.js";
import {
  type Cells,
  changeOfMake,
  type Presence,
  perviousLayer,
  recordedIncident,
  structure,
  thinBlanket,
  wetterAtHighWater,
} from "./evidence.js";
import { exitGradientOf } from "./exit-gradient.js";
import { seepageFigures, seepageTable } from "./figures.js";
import { refuseBadOptions, type SeepageOptions, seepageDefaults } from "./options.js";
import { perviousThreshold } from "./pervious-threshold.js";
import type { EvidencePiece, Seepage, SeepageZone, ZoneEvidence } from "./seepage.js";

/** What the score is made from. Blocks and changes may be missing: their evidence is then unknown. */
export interface SeepageEvidence {
  readonly survey: Given<Survey>;
  readonly slices: Given<DepthSlices>;
  readonly blocks?: Given<Blocks> | null;
  readonly changes?: readonly Given<Changes>[];
}

/**
 * Ranks stretches by the evidence for a seepage path: weights of evidence.
 *
 * score = ln(p₀/(1 − p₀)) + Σ [v·present + (1 − v)·absent] over the pieces known at a cell, v from
 * 0 (absent) to 1 (present). An unknown piece adds nothing and is said to be unknown. Cells at
 * `zoneFrom` or above make zones; a zone's score is the mean over its cells, so the evidence that
 * stands beside it adds up to it. The probability is that of the declared weights: it ranks, it
 * does not predict a failure.
 *
 * @param evidence - the survey, slices (log10 ohm-m by station), and blocks and changes if made.
 * @param options - see `SeepageOptions`; what is left out is `seepageDefaults`.
 * @returns zones ranked by score, each with its evidence and exit gradient (p10, p50, p90).
 * @throws StepError for options outside their range, all at once.
 * Source: Agterberg 1989; Bonham-Carter 1994 (weights of evidence); USACE EM 1110-2-1913,
 * Appendix B (exit gradient). The weights themselves are the interpreter's.
 * @example scoreSeepage({ survey, slices, blocks, changes: [change] }).value.zones[0]?.rank // 1
 */
export function scoreSeepage(
  evidence: SeepageEvidence,
  options: Partial<SeepageOptions> = {},
): StepResult<Seepage> {
  const used: SeepageOptions = { ...seepageDefaults, ...options };
  refuseBadOptions(used);
  const survey = resultValue(evidence.survey);
  const slices = resultValue(evidence.slices);
  const blocks = evidence.blocks ? resultValue(evidence.blocks) : null;
  const changes = (evidence.changes ?? []).map((change) => resultValue(change));
  const cells = cellsAlong(slices, used.cell_m);
  const pervious = perviousThreshold(slices, survey.boreholes, used.pervious_ohm_m);
  const presences = [
    perviousLayer(cells, slices, pervious.threshold_ohm_m),
    thinBlanket(cells, slices, used.blanketRatio),
    wetterAtHighWater(cells, changes, survey),
    recordedIncident(cells, survey.incidents, used.reach_m.incident),
    structure(cells, survey, used.reach_m.structure),
    changeOfMake(cells, blocks, used.reach_m.boundary),
  ];
  const pieces = presences.map((presence) => weighted(presence, used));
  const score = cells.chainage_m.map((_, i) =>
    pieces.reduce((sum, piece) => sum + piece.weight[i]!, logit(used.startingProbability)),
  );
  const zones = rankedZones({ cells, score, pieces, presences }, survey, used);
  const value: Seepage = {
    zones,
    chainage_m: cells.chainage_m,
    score,
    pieces,
    centreline: survey.centreline,
  };
  return new StepResult({
    step: "scoreSeepage",
    summary: summaryOf(zones),
    value,
    used: { ...used, pervious_ohm_m: pervious.threshold_ohm_m, perviousFrom: pervious.source },
    basis: seepageBasis,
    cautions: cautionsOf({ survey, blocks, changes, pervious }),
    accounting: null,
    figures: seepageFigures(value, used.bands),
    tables: [seepageTable(value)],
  });
}

function cellsAlong(slices: DepthSlices, cell_m: number): Cells {
  const first = slices.chainage_m[0] ?? 0;
  const last = slices.chainage_m.at(-1) ?? 0;
  const n = slices.chainage_m.length === 0 ? 0 : Math.floor((last - first) / cell_m) + 1;
  const chainage_m = Float64Array.from({ length: n }, (_, i) => first + i * cell_m);
  return { chainage_m, half_m: cell_m / 2 };
}

function weighted(presence: Presence, used: SeepageOptions): EvidencePiece {
  const { present, absent } = used.weights[presence.name];
  const weight = presence.value.map((v) => (!Number.isNaN(v) ? v * present + (1 - v) * absent : 0));
  return { name: presence.name, value: presence.value, weight };
}

interface Scored {
  readonly cells: Cells;
  readonly score: Float64Array;
  readonly pieces: readonly EvidencePiece[];
  readonly presences: readonly Presence[];
}

function rankedZones(scored: Scored, survey: Survey, used: SeepageOptions): SeepageZone[] {
  const runs = runsAbove(scored.score, logit(used.zoneFrom), used);
  const zones = runs.map(([first, last]) => {
    const { chainage_m, half_m } = scored.cells;
    const from_m = chainage_m[first]! - half_m;
    const to_m = chainage_m[last]! + half_m;
    const score = meanOf(scored.score, first, last);
    const probability = 1 / (1 + Math.exp(-score));
    const evidence = scored.pieces.map((piece, p) =>
      zoneEvidence(piece, scored.presences[p]!, { first, last, from_m, to_m }),
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
  for (let i = 0; i < score.length; i++) {
    if (!(score[i]! >= limit)) continue;
    const before = runs.at(-1);
    if (before !== undefined && (i - before[1] - 1) * used.cell_m <= used.joinWithin_m)
      before[1] = i;
    else runs.push([i, i]);
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
  const known = Array.from(piece.value.subarray(at.first, at.last + 1)).filter(
    (v) => !Number.isNaN(v),
  );
  const value = known.length > 0 ? known.reduce((sum, v) => sum + v, 0) / known.length : null;
  const statement =
    value === null ? "Not known here." : presence.statement(value, at.from_m, at.to_m);
  return { name: piece.name, weight: meanOf(piece.weight, at.first, at.last), value, statement };
}

function meanOf(values: Float64Array, first: number, last: number): number {
  let sum = 0;
  for (let i = first; i <= last; i++) sum += values[i]!;
  return sum / (last - first + 1);
}

function bandOf(probability: number, used: SeepageOptions): "low" | "moderate" | "high" {
  if (probability >= used.bands.high) return "high";
  return probability >= used.bands.moderate ? "moderate" : "low";
}

function logit(p: number): number {
  return Math.log(p / (1 - p));
}
