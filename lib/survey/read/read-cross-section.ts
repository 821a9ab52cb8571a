import { quoted } from "../../step/step-error.js";
import {
  type CrossSectionField,
  type CrossSectionTable,
  crossSectionAlong,
  CROSS_SECTION_FIELDS as FIELDS,
} from "../bank/cross-section-along.js";
import type { FaultLog } from "../check/faults.js";
import type { CrestProfile, CrossSection, CrossSectionProfile } from "../cross-section.js";
import { checkChainages } from "./frame/check-chainages.js";
import type { Frame } from "./frame/locate.js";
import type { SurveyProperties } from "./package/descriptor.js";
import { PACKAGE_FILE } from "./package/package-schema.js";
import type { CsvTable } from "./table/csv-table.js";

/** Points of one field, by chainage. */
interface Points {
  readonly chainage_m: readonly number[];
  readonly value: readonly number[];
}

/**
 * The cross-section by chainage: linear between the rows of the tables, level beyond the first and
 * the last; the survey's constant where no table has the field; null where there is neither.
 */
export function crossSectionFrom(
  survey: SurveyProperties,
  tables: readonly CsvTable[],
): (chainage_m: number) => CrossSection {
  const along = (field: CrossSectionField) => ({
    ...pointsOf(tables, field),
    constant: survey[field] ?? null,
  });
  const table = FIELDS.map((field) => [field, along(field)] as const);
  return crossSectionAlong(Object.fromEntries(table) as CrossSectionTable);
}

/**
 * The cross-sections at every chainage of the tables; null where the survey has nothing of them.
 */
export function crossSectionsFrom(
  survey: SurveyProperties,
  tables: readonly CsvTable[],
): CrossSectionProfile | null {
  const at = crossSectionFrom(survey, tables);
  const all = FIELDS.flatMap((field) => pointsOf(tables, field).chainage_m);
  const chainage_m = [...new Set(all.length > 0 ? all : [0])].sort((one, other) => one - other);
  const section = chainage_m.map(at);
  const known = section.some((one) => FIELDS.some((field) => one[field] !== null));
  return known ? { chainage_m, section, waterside: survey.waterside ?? null } : null;
}

/** The crest's elevation by a table or the survey's constant; null where there is neither. */
export function crestProfileFrom(
  survey: SurveyProperties,
  tables: readonly CsvTable[],
): CrestProfile | null {
  const { chainage_m, value } = pointsOf(tables, "crestElevation_m");
  if (value.length > 0) return { chainage_m, elevation_m: value };
  const constant = survey.crestElevation_m ?? null;
  return constant === null ? null : { chainage_m: [0], elevation_m: [constant] };
}

/** Logs chainages out of range and chainages that stand twice. */
export function checkCrossSection(table: CsvTable, frame: Frame, log: FaultLog): void {
  checkChainages(table, ["chainage_m"], { frame, log });
  const seen = new Set<number>();
  for (const row of table.rows) {
    const chainage_m = row.number("chainage_m");
    if (seen.has(chainage_m) && !Number.isNaN(chainage_m)) {
      const fault = { code: "duplicate-chainage", rule: "given once", value: quoted(chainage_m) };
      log.add({ ...fault, ...row.place("chainage_m") });
    }
    seen.add(chainage_m);
  }
}

/** The crest lies above the ground that the bank stands on. */
export function checkShape(
  { crestElevation_m, foundationElevation_m }: SurveyProperties,
  log: FaultLog,
): void {
  if (crestElevation_m === undefined || foundationElevation_m === undefined) return;
  if (crestElevation_m > foundationElevation_m) return;
  const place = { file: PACKAGE_FILE, field: "survey.crestElevation_m" };
  const rule = `above foundationElevation_m (${foundationElevation_m})`;
  log.add({ code: "crest-below-ground", ...place, rule, value: String(crestElevation_m) });
}

function pointsOf(tables: readonly CsvTable[], field: CrossSectionField): Points {
  const points = tables
    .flatMap(({ rows }) => rows)
    .map((row) => ({ chainage_m: row.number("chainage_m"), value: row.number(field) }))
    .filter(({ chainage_m, value }) => !Number.isNaN(chainage_m + value))
    .sort((one, other) => one.chainage_m - other.chainage_m);
  return {
    chainage_m: points.map(({ chainage_m }) => chainage_m),
    value: points.map(({ value }) => value),
  };
}
