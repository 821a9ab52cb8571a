import { median } from "../numerics/robust.js";
import type { Campaign } from "../survey/survey.js";
import { combine, type Piece, silentFootprints } from "./combine.js";
import { type Footprint, footprintsOf, reachOf, within } from "./footprints.js";
import type { Masked } from "./masked.js";
import { alongLines } from "./metal/along-line.js";
import { type Detection, detectOn } from "./metal/detect.js";
import { scoreTrack, type TrackScore } from "./metal/score.js";
import { tracksOf } from "./metal/tracks.js";
import { noiseFound } from "./noise/noise-found.js";
import type { MaskOptions } from "./options.js";
import { setPiecesAside } from "./set-aside.js";
import { withSpared } from "./spare.js";

/** The masked campaign, and what its account is made from. */
export interface MaskedWork {
  readonly value: Masked;
  readonly scored: readonly TrackScore[];
  readonly footprints: readonly Footprint[];
}

/** Finds the disturbed stretches of a campaign and sets them aside. */
export function maskCampaign(campaign: Campaign, used: MaskOptions): MaskedWork {
  const scored = tracksOf(campaign).map((track) => scoreTrack(track, used));
  const footprints = footprintsOf(campaign, scored, used);
  const reach_m = reachOf(campaign, used);
  const { detections, pieces, shifted } = disturbances({ scored, footprints }, used, reach_m);
  const applied = used.perChannel ? withSpared(pieces, scored, reach_m) : pieces;
  const { campaign: flagged, stretches } = setPiecesAside(campaign, applied, reach_m);
  const value = {
    ...flagged,
    interference: stretches,
    unexplained: stretches
      .filter(({ cause }) => cause === "detected")
      .map(({ campaign: label, from_m, to_m }) => ({ campaign: label, from_m, to_m })),
    silentNotes: silentFootprints(footprints, detections, reach_m).map(({ note }) => ({
      object: note.object,
      from_m: note.from_m,
      to_m: note.to_m,
    })),
    alongLine: shifted.map(({ from_m, to_m, score }) => ({ from_m, to_m, score })),
    noise: noiseFound(campaign, scored),
  };
  return { value, scored, footprints };
}

interface Disturbances {
  readonly detections: readonly Detection[];
  readonly pieces: readonly Piece[];
  readonly shifted: readonly Detection[];
}

/** Single objects first; what they leave is searched for stretches that are shifted as a whole. */
function disturbances(
  { scored, footprints }: Pick<MaskedWork, "scored" | "footprints">,
  used: MaskOptions,
  reach_m: number,
): Disturbances {
  const options = { ...used, reach_m };
  const single = scored.flatMap((one) => detectOn(one, used, alongside(one, scored, reach_m)));
  const pieces = combine(footprints, single, options);
  if (used.alongLine === "off") return { detections: single, pieces, shifted: [] };
  const shifted = alongLines(scored, pieces, reach_m);
  if (used.alongLine === "say") return { detections: single, pieces, shifted };
  const detections = [...single, ...shifted];
  return { detections, pieces: combine(footprints, detections, options), shifted };
}

/** The other walks that pass within reach aside. */
function alongside(
  one: TrackScore,
  scored: readonly TrackScore[],
  reach_m: number,
): readonly TrackScore[] {
  const aside = median(one.track.offset_m);
  return scored.filter(
    (other) => other !== one && within(aside, median(other.track.offset_m), reach_m),
  );
}
