import type { Blocks } from "../blocks/blocks.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { valueAt } from "../numerics/arrays.js";
import type { Survey } from "../survey/survey.js";
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
import type { SeepageOptions } from "./options.js";
import { type PerviousThreshold, perviousThreshold } from "./pervious-threshold.js";
import type { EvidencePiece, Seepage } from "./seepage.js";
import { type LineSlices, landsideLine, toeContrast } from "./toe-contrast.js";
import { logit, rankedZones } from "./zones.js";

/** What the score is made from; blocks null and no changes where these are not known. */
export interface SeepageInput {
  readonly survey: Survey;
  readonly slices: DepthSlices;
  readonly blocks: Blocks | null;
  readonly changes: readonly Changes[];
  /** Lines beside the one that is scored. */
  readonly otherLines: readonly LineSlices[];
}

export interface ScoredSeepage {
  readonly value: Seepage;
  readonly pervious: PerviousThreshold;
}

/** The sum of weights along the line, and the zones that it makes. */
export function scoredSeepage(input: SeepageInput, used: SeepageOptions): ScoredSeepage {
  const { survey, slices, blocks, changes, otherLines } = input;
  const cells = cellsAlong(slices, used.cell_m);
  const pervious = perviousThreshold(slices, survey.boreholes, used.pervious_ohm_m);
  const toe = landsideLine(survey, otherLines);
  const presences = [
    perviousLayer(cells, slices, pervious.threshold_ohm_m),
    thinBlanket(cells, slices, used.blanketRatio),
    wetterAtHighWater(cells, changes, survey),
    recordedIncident(cells, survey.incidents, used.reach_m.incident),
    structure(cells, survey, used.reach_m.structure),
    changeOfMake(cells, blocks, used.reach_m.boundary),
    ...(toe === null ? [] : [toeContrast(cells, toe, used.blanketRatio)]),
  ];
  const pieces = presences.map((presence) => weighted(presence, used));
  const score = cells.chainage_m.map((_, i) =>
    pieces.reduce((sum, { weight }) => sum + valueAt(weight, i), logit(used.startingProbability)),
  );
  const zones = rankedZones({ cells, score, pieces, presences }, survey, used);
  const { chainage_m } = cells;
  return { value: { zones, chainage_m, score, pieces, centreline: survey.centreline }, pervious };
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
