import { campaignFaults } from "../drift/campaign-faults.js";
import { median } from "../numerics/robust.js";
import { StepError } from "../numerics/step-error.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
import { accountFor } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";
import { maskBasis, maskSummary } from "./account.js";
import { maskCautions } from "./cautions.js";
import { combine, silentFootprints } from "./combine.js";
import { interferenceFigures } from "./figures.js";
import { type Footprint, footprintsOf, reachOf, within } from "./footprints.js";
import type { Masked } from "./masked.js";
import { alongLines } from "./metal/along-line.js";
import { type Detection, detectOn } from "./metal/detect.js";
import { scoreTrack, type TrackScore } from "./metal/score.js";
import { tracksOf } from "./metal/tracks.js";
import { noiseFound } from "./noise/noise-found.js";
import { type MaskOptions, maskDefaults, maskOptionFaults } from "./options.js";
import { setPiecesAside } from "./set-aside.js";
import { withSpared } from "./spare.js";
import { maskTables } from "./tables.js";

export type { MaskOptions } from "./options.js";

/**
 * Sets aside the stretches of a campaign that metal distorts: those noted in the field, and those
 * that the readings themselves give away.
 *
 * Rule: a noted object of kind `metal` or `structure` reaches beyond its ends by the coils'
 * separation and height and the error of positions. A reading gives metal away where its departure
 * from the levels before and after it cannot be put together from what changes of a layered ground
 * (and of the coils' height) would do to the channels: metal moves in-phase and quadrature, and the
 * frequencies, out of the ground's proportion, and swings at the scale of the coils. The part unlike
 * ground, in units of the noise found, summed over channels, is a standard normal score on
 * undisturbed ground. From `threshold` on, a stretch is detected, and grows while the score stays
 * above `growTo`. Beside it goes a matched filter: the footprint of a small piece of metal along the
 * line, at some depths and distances aside and with the spectra of some decay times, which counts where
 * it explains at least 0.35 of what is seen nearby. What looks like a burst of noise is not metal: it
 * has no such shape, its readings do not move along one spectrum, or in one frequency only, or the other
 * walk past the place shows nothing. A stretch found in one pass is set aside in all channels of all
 * passes on lines within reach, as all walked past the same metal.
 *
 * `campaign`: passes of n readings with chainage (m) and values (channel's unit), field notes.
 * Options: see `MaskOptions`. Output: the campaign with its readings flagged and causes added, the
 * stretches, those that nobody noted (`unexplained`), the notes that no channel shows
 * (`silentNotes`; their readings stay in use unless `maskSilent`), and the noise found.
 * Missing values, readings without position and readings set aside before take no part.
 *
 * A long object along the line shifts a whole stretch evenly. Such stretches of 30 m or more are found
 * where all channels of all walks together, place by place, lie further from every layered ground than
 * elsewhere along the line (`alongLine`).
 *
 * Limits: metal whose decay is so short that it answers like ground is missed most. A shift along the line that is small, or covers more than two fifths of the line, is not
 * told from ground, and its note is needed; a caution says where the channels are too few to tell at
 * all. With fewer channels than the ground has modes, proportions say
 * too little and a stretch must show swings of both signs. Magnetic soil looks like metal.
 * Throws StepError with every fault of the options and of the campaign's shape.
 *
 * Source: common practice for the footprint; layered response after Wait 1982; score after
 * Wilson & Hilferty 1931.
 *
 * @example maskInterference(correctDrift(survey.campaigns[0])).value.unexplained.length; // 2
 */
export function maskInterference(
  campaign: Given<Campaign>,
  options: MaskOptions = {},
): StepResult<Masked> {
  const used = { ...maskDefaults, ...options };
  const given = resultValue(campaign);
  const faults = [...campaignFaults(given), ...maskOptionFaults(used)];
  if (faults.length > 0) throw new StepError("maskInterference", faults);
  const scored = tracksOf(given).map((track) => scoreTrack(track, used));
  const footprints = footprintsOf(given, scored, used);
  const value = masked(given, { scored, footprints, used });
  return new StepResult({
    step: "maskInterference",
    summary: maskSummary(value),
    value,
    used,
    basis: maskBasis,
    cautions: maskCautions(value, scored, footprints),
    accounting: accountFor([value]),
    figures: interferenceFigures(value, scored, used),
    tables: maskTables(value, footprints),
  });
}

interface Findings {
  readonly scored: readonly TrackScore[];
  readonly footprints: readonly Footprint[];
  readonly used: Required<MaskOptions>;
}

function masked(campaign: Campaign, { scored, footprints, used }: Findings): Masked {
  const reach_m = reachOf(campaign, used);
  const single = scored.flatMap((one) => detectOn(one, used, alongside(one, scored, reach_m)));
  const { detections, pieces, shifted } = withShifted(
    { scored, footprints, used },
    single,
    reach_m,
  );
  const applied = used.perChannel ? withSpared(pieces, scored, reach_m) : pieces;
  const { campaign: flagged, stretches } = setPiecesAside(campaign, applied, reach_m);
  return {
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
}

/** What single objects leave is looked through for stretches that are shifted as a whole. */
function withShifted(
  { scored, footprints, used }: Findings,
  single: readonly Detection[],
  reach_m: number,
) {
  const options = { ...used, reach_m };
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
