import { lastOf } from "../../numerics/arrays.js";
import { type Given, resultValue } from "../../step/step-result.js";
import type { ResistivityLine } from "../../survey/resistivity-line.js";
import { riverLevelAt } from "../../survey/river-level.js";
import type { Survey } from "../../survey/survey.js";
import { campaignsOf } from "../readings/of-campaign.js";
import type { SectionElectrode, WaterCover } from "../section-input.js";

/** Whose readings are inverted. */
export interface WaterDay {
  /** A campaign's label; left out: the line's first, or the survey's where the line names none. */
  readonly campaign?: string | null;
}

/**
 * The water beside a resistivity line that runs across the embankment, as `invertSection` takes it:
 * the river's level of the day, wet from the highest electrode on toward the waterside, with the
 * survey's waterside slope from the last electrode down to the natural ground.
 *
 * @param line - a line of the survey, x growing from landside to waterside.
 * @param survey - the survey or the result of opening it.
 * @param day - see `WaterDay`.
 * @returns level, place and bed; null for a line along the embankment and where no river level was
 *   read within seven days of the campaign's first reading.
 * @example waterBeside(resistivityLine, survey)?.level_m; // such as 1.6
 */
export function waterBeside(
  line: ResistivityLine,
  survey: Given<Survey>,
  { campaign = null }: WaterDay = {},
): WaterCover | null {
  const known = resultValue(survey);
  if (line.runs !== "across") return null;
  const label = campaign ?? campaignsOf(line)[0] ?? known.campaigns[0]?.label ?? "";
  const level_m = riverLevelAt(known, label);
  const placed = line.electrodes
    .filter(({ x_m, elevation_m }) => Number.isFinite(x_m) && Number.isFinite(elevation_m))
    .sort((one, other) => one.x_m - other.x_m);
  if (Number.isNaN(level_m) || placed.length === 0) return null;
  const highest = placed.reduce((most, one) => (one.elevation_m > most.elevation_m ? one : most));
  return { level_m, from_m: highest.x_m, bed: bedBeyond(line, known, lastOf(placed)) };
}

/** From the last electrode over what is left of the crest, then down the slope to the foot. */
function bedBeyond(
  { offset_m, chainage_m }: ResistivityLine,
  { crossSectionAt, waterside }: Survey,
  { x_m, elevation_m }: SectionElectrode,
): SectionElectrode[] {
  const { crestWidth_m, foundationElevation_m, watersideSlope } = crossSectionAt(chainage_m);
  if (foundationElevation_m === null || watersideSlope === null) return [];
  const height_m = elevation_m - foundationElevation_m;
  if (!(height_m > 0)) return [];
  const out_m = waterside === "right" ? x_m - offset_m : x_m + offset_m;
  const flat_m = Math.max(0, (crestWidth_m ?? 0) / 2 - out_m);
  const shoulder = x_m + flat_m;
  const foot = { x_m: shoulder + height_m * watersideSlope, elevation_m: foundationElevation_m };
  return flat_m > 0 ? [{ x_m: shoulder, elevation_m }, foot] : [foot];
}
