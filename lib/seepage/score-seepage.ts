import type { Blocks } from "../blocks/blocks.js";
import type { Changes } from "../campaigns/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { Caution } from "../result/step-account.js";
import { type Fault, quoted, StepError } from "../result/step-error.js";
import { type Given, resultValue, StepResult } from "../result/step-result.js";
import type { Survey } from "../survey/survey.js";
import {
  type Cells,
  changeOfMake,
  type Presence,
  perviousLayer,
  recordedIncident,
  riverRise,
  structure,
  thinBlanket,
  wetterAtHighWater,
} from "./evidence.js";
import { type BlanketRanges, exitGradientOf } from "./exit-gradient.js";
import { seepageFigures, seepageTable } from "./figure.js";
import { type PerviousThreshold, perviousThreshold } from "./pervious-threshold.js";
import type { EvidenceName, EvidencePiece, Seepage, SeepageZone, ZoneEvidence } from "./seepage.js";

/** What the score is made from. Blocks and changes may be missing: their evidence is then unknown. */
export interface SeepageEvidence {
  readonly survey: Given<Survey>;
  readonly slices: Given<DepthSlices>;
  readonly blocks?: Given<Blocks> | null;
  readonly changes?: readonly Given<Changes>[];
}

/** Weights of one piece of evidence, log-odds (natural): where it is present, and where absent. */
export interface EvidenceWeight {
  readonly present: number;
  readonly absent: number;
}

export interface SeepageOptions {
  /** Log-odds of each piece; the interpreter's own judgement, to be declared with `decide`. */
  readonly weights: Readonly<Record<EvidenceName, EvidenceWeight>>;
  /** Probability of a seepage path at a cell before any evidence, 0 … 1. Default 0.05. */
  readonly startingProbability: number;
  /** Length of a cell along chainage, m, over 0. Default 5. */
  readonly cell_m: number;
  /** Cells at this probability or above form zones, 0 … 1. Default 0.2. */
  readonly zoneFrom: number;
  /** Bands: below `moderate` low, below `high` moderate, else high. Default 0.4 and 0.7. */
  readonly bands: { readonly moderate: number; readonly high: number };
  /** Zones nearer than this are one, m. Default 15. */
  readonly joinWithin_m: number;
  /** Shorter zones are dropped, m. Default 10. */
  readonly minLength_m: number;
  /** Reach of incidents, structures and block ends along the bank, m. Default 15, 5 and 5. */
  readonly reach_m: {
    readonly incident: number;
    readonly structure: number;
    readonly boundary: number;
  };
  /** Resistivity taken for pervious ground where boreholes cannot tell, ohm-m. Default 60. */
  readonly pervious_ohm_m: number;
  /** Contrast that counts as a blanket over pervious ground. Default 1.5. */
  readonly blanketRatio: number;
  /** Ranges for the exit gradient, uniform or log-uniform within their limits. */
  readonly blanket: BlanketRanges;
  /** Seed of the draws for the exit gradient. Default 1. */
  readonly seed: number;
}

export const seepageDefaults: SeepageOptions = Object.freeze({
  weights: Object.freeze({
    "pervious layer": Object.freeze({ present: 1.6, absent: -0.6 }),
    "thin blanket": Object.freeze({ present: 0.9, absent: -0.2 }),
    "wetter at high water": Object.freeze({ present: 1.4, absent: -0.3 }),
    "recorded incident": Object.freeze({ present: 2, absent: 0 }),
    structure: Object.freeze({ present: 0.8, absent: 0 }),
    "change of make": Object.freeze({ present: 0.4, absent: 0 }),
  }),
  startingProbability: 0.05,
  cell_m: 5,
  zoneFrom: 0.2,
  bands: Object.freeze({ moderate: 0.4, high: 0.7 }),
  joinWithin_m: 15,
  minLength_m: 10,
  reach_m: Object.freeze({ incident: 15, structure: 5, boundary: 5 }),
  pervious_ohm_m: 60,
  blanketRatio: 1.5,
  blanket: Object.freeze({
    blanketThickness_m: [0.8, 2.5],
    aquiferThickness_m: [3, 12],
    blanketConductivity_m_per_s: [1e-7, 5e-6],
    aquiferConductivity_m_per_s: [5e-5, 1e-3],
    riverside_m: [10, 100],
    landside_m: [50, 300],
    draws: 2000,
  } as const),
  seed: 1,
});

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
    basis: BASIS,
    cautions: cautionsOf({ survey, blocks, changes, pervious }),
    accounting: null,
    figures: seepageFigures(value, used.bands),
    tables: [seepageTable(value)],
  });
}

const BASIS = [
  {
    statement: "Evidence is combined as a sum of log-odds of named pieces.",
    source: "Agterberg 1989; Bonham-Carter 1994",
  },
  {
    statement: "Landward exit gradient from blanket theory with declared ranges.",
    source: "USACE EM 1110-2-1913, Appendix B; TM 3-424 (1956)",
  },
  {
    statement: "The weights and the starting probability are the interpreter's judgement.",
    source: "common practice",
  },
];

function refuseBadOptions(used: SeepageOptions): void {
  const faults: Fault[] = [];
  const need = (ok: boolean, path: string, expected: string, received: unknown) => {
    if (!ok) {
      faults.push({
        code: "option-range",
        path: `options.${path}`,
        expected,
        received: quoted(received),
      });
    }
  };
  const between = (value: number) => value > 0 && value < 1;
  need(
    between(used.startingProbability),
    "startingProbability",
    "between 0 and 1",
    used.startingProbability,
  );
  need(between(used.zoneFrom), "zoneFrom", "between 0 and 1", used.zoneFrom);
  need(used.cell_m > 0, "cell_m", "over 0 m", used.cell_m);
  need(used.joinWithin_m >= 0, "joinWithin_m", "0 m or more", used.joinWithin_m);
  need(used.minLength_m >= 0, "minLength_m", "0 m or more", used.minLength_m);
  need(used.pervious_ohm_m > 0, "pervious_ohm_m", "over 0 ohm-m", used.pervious_ohm_m);
  need(used.blanketRatio > 0, "blanketRatio", "over 0", used.blanketRatio);
  const { moderate, high } = used.bands;
  need(
    between(moderate) && between(high) && moderate < high,
    "bands",
    "0 < moderate < high < 1",
    `${moderate}, ${high}`,
  );
  for (const [name, reach] of Object.entries(used.reach_m)) {
    need(reach > 0, `reach_m.${name}`, "over 0 m", reach);
  }
  for (const name of Object.keys(seepageDefaults.weights) as EvidenceName[]) {
    const weight = used.weights[name];
    const ok = Number.isFinite(weight?.present) && Number.isFinite(weight?.absent);
    need(ok, `weights.${name}`, "two finite log-odds", JSON.stringify(weight));
  }
  const { draws, ...ranges } = used.blanket;
  need(Number.isInteger(draws) && draws >= 100, "blanket.draws", "a whole number from 100", draws);
  for (const [name, [low, high]] of Object.entries(ranges)) {
    need(low > 0 && high >= low, `blanket.${name}`, "0 < low ≤ high", `${low}, ${high}`);
  }
  if (faults.length > 0) throw new StepError("scoreSeepage", faults);
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

function summaryOf(zones: readonly SeepageZone[]): string {
  const first = zones[0];
  if (first === undefined) return "No stretch gathers enough evidence to be named a seepage zone.";
  const count = `${zones.length} ${zones.length === 1 ? "stretch gathers" : "stretches gather"}`;
  return (
    `${count} evidence for a seepage path; the strongest lies from ${first.from_m.toFixed(0)} to ` +
    `${first.to_m.toFixed(0)} m (${first.band}, ${Math.round(100 * first.probability)} % under the ` +
    "declared weights)."
  );
}

interface CautionGrounds {
  readonly survey: Survey;
  readonly blocks: Blocks | null;
  readonly changes: readonly Changes[];
  readonly pervious: PerviousThreshold;
}

function cautionsOf({ survey, blocks, changes, pervious }: CautionGrounds): Caution[] {
  const texts = [
    "Seepage needs a pervious path, a head and a weak exit; resistivity alone proves none of them. " +
      "The zones say where to look first. Judgements on flood safety belong to the licensed " +
      "engineer responsible, under the local code.",
  ];
  if (!pervious.local) {
    texts.push(
      `Ground over ${pervious.threshold_ohm_m} ohm-m is taken as pervious (${pervious.source}). ` +
        "Ranges of soils overlap: check it by a borehole.",
    );
  }
  if (blocks === null) texts.push("No blocks were given: the ends of blocks are not weighed.");
  if (changes.length === 0) {
    texts.push("One campaign only: change with water level is unknown, not absent.");
  } else if (changes.every((change) => riverRise(survey, change) === null)) {
    texts.push("No river levels at the campaigns: change with water level is not weighed.");
  }
  if (survey.incidents.length === 0)
    texts.push("No incidents are recorded; none does not mean none happened.");
  if (survey.designWaterLevel_m === null) {
    texts.push("No design water level: no exit gradient is computed.");
  } else {
    texts.push(
      "Exit gradients come from declared ranges of blanket and aquifer, not from measurements " +
        "at the toe; they are for ranking, not for design.",
    );
  }
  return texts.map((text) => ({ step: "scoreSeepage", text }));
}
