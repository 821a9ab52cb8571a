import { linearBetween } from "../../numerics/linear-between.js";
import { quoted } from "../../step/step-error.js";
import type { FaultLog } from "../check/faults.js";
import type { SurveyProperties } from "../read/descriptor.js";
import { PACKAGE_FILE } from "../read/read-descriptor.js";
import type { Table } from "../read/table.js";
import type { CrestProfile, CrossSection } from "../survey.js";
import { checkChainages } from "./chainage-range.js";
import type { Frame } from "./locate.js";

export const CROSS_SECTION_FIELDS = [
  "crestWidth_m",
  "crestElevation_m",
  "foundationElevation_m",
  "watersideSlope",
  "landsideSlope",
] as const;

type Field = (typeof CROSS_SECTION_FIELDS)[number];

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
  tables: readonly Table[],
): (chainage_m: number) => CrossSection {
  const points = new Map(CROSS_SECTION_FIELDS.map((field) => [field, pointsOf(tables, field)]));
  const at = (field: Field, chainage_m: number): number | null => {
    const own = points.get(field)!;
    return own.value.length > 0 ? between(own, chainage_m) : (survey[field] ?? null);
  };
  return (chainage_m) => ({
    crestWidth_m: at("crestWidth_m", chainage_m),
    crestElevation_m: at("crestElevation_m", chainage_m),
    foundationElevation_m: at("foundationElevation_m", chainage_m),
    watersideSlope: at("watersideSlope", chainage_m),
    landsideSlope: at("landsideSlope", chainage_m),
  });
}

/** The crest's elevation where a table or the survey's constant tells it; null where neither does. */
export function crestProfileFrom(
  survey: SurveyProperties,
  tables: readonly Table[],
): CrestProfile | null {
  const { chainage_m, value } = pointsOf(tables, "crestElevation_m");
  if (value.length > 0) return { chainage_m, elevation_m: value };
  const constant = survey.crestElevation_m ?? null;
  return constant === null ? null : { chainage_m: [0], elevation_m: [constant] };
}

/** Elevation of the crest at a chainage, m above the datum; NaN at a chainage that is missing. */
export function crestElevationAt({ chainage_m, elevation_m }: CrestProfile, at_m: number): number {
  return linearBetween(chainage_m, elevation_m, at_m);
}

/** Logs chainages out of range and chainages that stand twice. */
export function checkCrossSection(table: Table, frame: Frame, log: FaultLog): void {
  checkChainages(table, ["chainage_m"], { frame, log });
  const seen = new Set<number>();
  for (const [i, chainage_m] of table.numbers("chainage_m").entries()) {
    if (seen.has(chainage_m) && !Number.isNaN(chainage_m)) {
      const place = { file: table.file, row: table.row[i]!, field: "chainage_m" };
      log.add({
        code: "duplicate-chainage",
        ...place,
        rule: "given once",
        value: quoted(chainage_m),
      });
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

function pointsOf(tables: readonly Table[], field: Field): Points {
  const rows = tables.flatMap((table) => {
    const value = table.numbers(field);
    return Array.from(
      table.numbers("chainage_m"),
      (chainage_m, i) => [chainage_m, value[i]!] as const,
    );
  });
  const given = rows.filter((row) => !row.some(Number.isNaN)).sort(([one], [other]) => one - other);
  return { chainage_m: given.map(([s]) => s), value: given.map(([, value]) => value) };
}

function between({ chainage_m: s, value }: Points, chainage_m: number): number | null {
  return Number.isNaN(chainage_m) ? null : linearBetween(s, value, chainage_m);
}
