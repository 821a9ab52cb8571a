import type { EmbankmentShape } from "../earth/embankment/shape.js";
import { type Given, resultValue } from "../step/step-result.js";
import type { ResistivityLine } from "../survey/resistivity-line.js";
import type { Survey } from "../survey/survey.js";

/**
 * The embankment's cross-section under a resistivity line that runs along its crest, as
 * `invertSection` takes it: the survey's own at the middle of the line.
 *
 * @param line - a line of the survey.
 * @param survey - the survey or the result of opening it. Where it does not say which side the water
 *   is on, the left is taken.
 * @returns the shape; null where the line runs across or beside the crest, or where the survey does
 *   not know the cross-section: such a line is not corrected.
 * @example shapeUnder(resistivityLine, survey); // null (the line runs across)
 */
export function shapeUnder(line: ResistivityLine, survey: Given<Survey>): EmbankmentShape | null {
  const { crossSectionAt, waterside } = resultValue(survey);
  if (line.runs !== "along") return null;
  const x = line.electrodes.map(({ x_m }) => x_m);
  const middle_m = line.chainage_m + (Math.min(...x) + Math.max(...x)) / 2;
  const { crestWidth_m, crestElevation_m, foundationElevation_m, watersideSlope, landsideSlope } =
    crossSectionAt(middle_m);
  if (crestWidth_m === null || crestElevation_m === null || foundationElevation_m === null) {
    return null;
  }
  if (watersideSlope === null || landsideSlope === null) return null;
  const height_m = crestElevation_m - foundationElevation_m;
  const offset_m = waterside === "right" ? line.offset_m : -line.offset_m;
  if (!(height_m >= 0) || Math.abs(offset_m) > crestWidth_m / 2) return null;
  return { crestWidth_m, height_m, watersideSlope, landsideSlope, offset_m: offset_m + 0 };
}
