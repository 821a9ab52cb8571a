import { neighbours } from "../../../numerics/arrays.js";
import type { SurveyProperties } from "../../read/package/descriptor.js";
import { PACKAGE_FILE } from "../../read/package/package-schema.js";
import type { CsvRow, CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";

/** Banks of earth for floods are smaller than these in every measure (common practice). */
const WIDEST_CREST_M = 60;
const HIGHEST_BANK_M = 60;
const FLATTEST_SLOPE = 20;
const FREEBOARD_M = 25;

type Shape = Pick<
  SurveyProperties,
  "crestWidth_m" | "crestElevation_m" | "foundationElevation_m" | "watersideSlope" | "landsideSlope"
>;

/**
 * Logs measures of the survey's constant cross-section that are another unit's by their size, and a
 * design level out of reach of the crest. `crest_m`: the crest's elevation; null where not known.
 */
export function checkBankShape(
  survey: SurveyProperties,
  crest_m: number | null,
  log: FaultLog,
): void {
  const place = (field: string) => ({ file: PACKAGE_FILE, field: `survey.${field}` });
  checkMeasures(survey, place, log);
  const { designWaterLevel_m: level_m } = survey;
  if (level_m === undefined) return;
  const at = place("designWaterLevel_m");
  if (crest_m !== null && Math.abs(level_m - crest_m) > FREEBOARD_M) {
    const rule = `within ${FREEBOARD_M} m of the crest, ${crest_m.toFixed(1)} m`;
    const hint = "another unit, or another datum?";
    log.add({ code: "unit-suspicious", ...at, rule, value: String(level_m), hint });
  } else if (crest_m !== null && level_m > crest_m) {
    log.caution(
      `survey.designWaterLevel_m, ${level_m}, is above the crest, ${crest_m.toFixed(1)} m`,
    );
  } else if (level_m < (survey.foundationElevation_m ?? Number.NEGATIVE_INFINITY)) {
    const toe = `the ground at the toe, ${survey.foundationElevation_m}`;
    log.caution(`survey.designWaterLevel_m, ${level_m}, is below ${toe}`);
  }
}

type PlaceOf = (field: string) => { readonly file: string; readonly field: string | null };

function checkMeasures(shape: Shape, place: PlaceOf, log: FaultLog): void {
  const { crestWidth_m, crestElevation_m, foundationElevation_m } = shape;
  const suspect = (field: string, most: number, hint: string) => (value: number) =>
    log.add({
      code: "unit-suspicious",
      ...place(field),
      rule: `at most ${most}`,
      value: String(value),
      hint,
    });
  if ((crestWidth_m ?? 0) > WIDEST_CREST_M) {
    suspect("crestWidth_m", WIDEST_CREST_M, "looks like cm, expected m")(crestWidth_m ?? 0);
  }
  for (const side of ["watersideSlope", "landsideSlope"] as const) {
    const slope = shape[side] ?? 0;
    const hint = "a slope is horizontal per 1 vertical, not a percentage or an angle";
    if (slope > FLATTEST_SLOPE) suspect(side, FLATTEST_SLOPE, hint)(slope);
  }
  const height_m = (crestElevation_m ?? Number.NaN) - (foundationElevation_m ?? Number.NaN);
  if (!(height_m > HIGHEST_BANK_M)) return;
  const rule = `at most ${HIGHEST_BANK_M} m above foundationElevation_m (${foundationElevation_m})`;
  const value = String(crestElevation_m);
  log.add({ code: "unit-suspicious", ...place("crestElevation_m"), rule, value });
}

/** A crest rises by more than this only over a longer way: m, and m a metre. */
const STEP_M = 5;
const STEEPEST = 0.2;

/** The same by the rows of a table, and crests that jump from row to row. */
export function checkShapeTable({ rows, file }: CsvTable, log: FaultLog): void {
  for (const row of rows) checkMeasures(shapeOf(row), (field) => row.place(field), log);
  const sorted = rows
    .filter((row) => !Number.isNaN(row.number("chainage_m") + row.number("crestElevation_m")))
    .toSorted((one, other) => one.number("chainage_m") - other.number("chainage_m"));
  for (const [from, to] of neighbours(sorted)) {
    const rise_m = Math.abs(to.number("crestElevation_m") - from.number("crestElevation_m"));
    const along_m = to.number("chainage_m") - from.number("chainage_m");
    if (!(rise_m > STEP_M && rise_m > STEEPEST * along_m)) continue;
    const rule = `near that of row ${from.line} of ${file}, ${along_m.toFixed(0)} m before`;
    const value = `${rise_m.toFixed(1)} m off it`;
    log.add({ code: "crest-step", ...to.place("crestElevation_m"), rule, value });
  }
}

function shapeOf(row: CsvRow): Shape {
  const shape = row.numbersOrNull(
    "crestWidth_m",
    "crestElevation_m",
    "foundationElevation_m",
    "watersideSlope",
    "landsideSlope",
  );
  const given = Object.entries(shape).filter(([, value]) => value !== null);
  return Object.fromEntries(given) as Shape;
}
