import type { Blocks } from "../blocks/blocks.js";
import type { HeadResponse } from "../campaigns/head/head-response.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { zipped } from "../numerics/arrays.js";
import type { Section } from "../sections/section.js";
import type { Survey } from "../survey/survey.js";
import { wetterAtHighWater } from "./evidence/at-high-water.js";
import { crossingOrBoundary, recordedIncident } from "./evidence/noted.js";
import { type Cells, cellsAlong, type Presence } from "./evidence/piece.js";
import { sectionBody } from "./evidence/section-body.js";
import { type SlicesAt25, slicesAt25 } from "./evidence/slices-at-25.js";
import { type ToeBlanket, thinAtToe, toeBlanket } from "./evidence/toe-blanket.js";
import { hydraulicsAlong } from "./hydraulics/hydraulics-along.js";
import { usedWeights } from "./incident-weights.js";
import { detectionBySize } from "./missed.js";
import type { SeepageOptions } from "./options.js";
import { type PerviousThreshold, perviousThreshold } from "./pervious-threshold.js";
import type { Seepage } from "./seepage.js";
import { type LineSlices, landsideLine } from "./toe-line.js";
import { fromGround, perviousOf, sumOfWeights, weighed } from "./weigh.js";
import { rankedZones } from "./zones.js";

/** What the score is made from; null and empty lists where these are not known. */
export interface SeepageInput {
  readonly survey: Survey;
  readonly slices: DepthSlices;
  readonly blocks: Blocks | null;
  readonly changes: readonly Changes[];
  readonly head: HeadResponse | null;
  readonly sections: readonly Section[];
  /** Lines beside the one that is scored. */
  readonly otherLines: readonly LineSlices[];
}

export interface ScoredSeepage {
  readonly value: Seepage;
  readonly pervious: PerviousThreshold;
  readonly ground: SlicesAt25;
}

/** The evidence along the cells, before it is weighed. */
export interface Gathered {
  readonly cells: Cells;
  readonly ground: SlicesAt25;
  readonly pervious: PerviousThreshold;
  readonly toe: ToeBlanket | null;
  /** What the walk's own slices show; first among all. */
  readonly fromGround: readonly Presence[];
  readonly presences: readonly Presence[];
}

export function gatherEvidence(input: SeepageInput, used: SeepageOptions): Gathered {
  const { survey, slices, blocks } = input;
  const cells = cellsAlong(slices.chainage_m, used.cell_m);
  const ground = slicesAt25(slices, used.seed);
  const pervious = perviousThreshold(ground, survey.boreholes, used.pervious_ohm_m);
  const line = landsideLine(survey, input.otherLines);
  const toe = line === null ? null : toeBlanket(line.line, slicesAt25(line.slices, used.seed));
  const shown = fromGround(cells, ground, { pervious, used });
  const presences = [
    ...shown,
    sectionBody(cells, input, perviousOf(pervious, used)),
    thinAtToe(cells, toe, used.thinShare),
    wetterAtHighWater(cells, input, survey),
    recordedIncident(cells, survey.incidents, used.reach_m.incident),
    crossingOrBoundary(cells, { survey, blocks }, used.reach_m),
  ];
  return { cells, ground, pervious, toe, fromGround: shown, presences };
}

/** The sum of weights along the line, and the zones that it makes. */
export function scoredSeepage(input: SeepageInput, used: SeepageOptions): ScoredSeepage {
  const { survey } = input;
  const gathered = gatherEvidence(input, used);
  const { cells, ground, pervious, presences } = gathered;
  const weights = usedWeights({ cells, presences, incidents: survey.incidents }, used);
  const pieces = presences.map((presence) => weighed(presence, weights[presence.name]));
  const score = sumOfWeights(cells, pieces, used.startingProbability);
  const ranked = rankedZones({ cells, score, pieces, presences, weights }, used);
  const ends = { from_m: cells.chainage_m[0] ?? 0, to_m: cells.chainage_m.at(-1) ?? 0 };
  const along = hydraulicsAlong(ranked, { survey, toe: gathered.toe, ...ends }, used);
  const zones = zipped(ranked, along.zones).map(([zone, { hydraulics, exitGradient, why }]) => {
    return { ...zone, hydraulics, exitGradient, gradientWhy: why };
  });
  const detection = detectionBySize({ ...gathered, weights }, used);
  const { chainage_m } = cells;
  const { centreline } = survey;
  const { stretches } = along;
  const value = { zones, chainage_m, score, pieces, weights, detection, stretches, centreline };
  return { value, pervious, ground };
}
