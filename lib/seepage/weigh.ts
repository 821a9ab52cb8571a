import { valueAt } from "../numerics/arrays.js";
import { logit } from "./bands.js";
import { perviousUnderCover } from "./evidence/pervious.js";
import type { Cells, Presence } from "./evidence/piece.js";
import type { SlicesAt25 } from "./evidence/slices-at-25.js";
import { standingOut } from "./evidence/standing-out.js";
import type { SeepageOptions } from "./options.js";
import type { Pervious, PerviousThreshold } from "./pervious-threshold.js";
import type { EvidencePiece, EvidenceWeight } from "./seepage.js";

export const perviousOf = (
  { threshold_ohm_m }: PerviousThreshold,
  used: SeepageOptions,
): Pervious => ({
  log10: Math.log10(threshold_ohm_m),
  least_m: used.perviousThickness_m,
});

/** The pieces that rest on the walk's own slices. */
export function fromGround(
  cells: Cells,
  ground: SlicesAt25,
  { pervious, used }: { readonly pervious: PerviousThreshold; readonly used: SeepageOptions },
): readonly Presence[] {
  const around = { ratio: used.coreRatio, reach_m: used.reach_m.surroundings };
  return [
    perviousUnderCover(cells, ground, perviousOf(pervious, used)),
    standingOut(cells, ground, around),
  ];
}

export function sumOfWeights(
  { chainage_m }: Cells,
  pieces: readonly { readonly weight: Float64Array }[],
  startingProbability: number,
): Float64Array {
  const start = logit(startingProbability);
  return chainage_m.map((_, i) =>
    pieces.reduce((sum, { weight }) => sum + valueAt(weight, i), start),
  );
}

export function weighed(presence: Presence, { present, absent }: EvidenceWeight): EvidencePiece {
  const { name, value, source } = presence;
  const weight = value.map((v) => (Number.isNaN(v) ? 0 : v * present + (1 - v) * absent));
  return { name, value, weight, source };
}
