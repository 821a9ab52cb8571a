import { linearBetween } from "../../numerics/functions/linear-between.js";
import type { CrossSection } from "../cross-section.js";

export const CROSS_SECTION_FIELDS = [
  "crestWidth_m",
  "crestElevation_m",
  "foundationElevation_m",
  "watersideSlope",
  "landsideSlope",
] as const satisfies readonly (keyof CrossSection)[];

export type CrossSectionField = (typeof CROSS_SECTION_FIELDS)[number];

/** Values of one field at rising chainages; `constant` holds where there are none. */
export interface FieldAlong {
  readonly chainage_m: readonly number[];
  readonly value: readonly number[];
  readonly constant: number | null;
}

/** What a cross-section is interpolated in. */
export type CrossSectionTable = Readonly<Record<CrossSectionField, FieldAlong>>;

type CrossSectionAt = (chainage_m: number) => CrossSection;

const tables = new WeakMap<CrossSectionAt, CrossSectionTable>();

/** The cross-section by chainage: linear between points, level beyond the first and the last. */
export function crossSectionAlong(table: CrossSectionTable): CrossSectionAt {
  const of = (field: CrossSectionField, at_m: number) => {
    const { chainage_m, value, constant } = table[field];
    if (value.length === 0) return constant;
    return Number.isNaN(at_m) ? null : linearBetween(chainage_m, value, at_m);
  };
  const at: CrossSectionAt = (at_m) =>
    Object.fromEntries(CROSS_SECTION_FIELDS.map((field) => [field, of(field, at_m)])) as Record<
      CrossSectionField,
      number | null
    >;
  tables.set(at, table);
  return at;
}

/** The table behind a function of `crossSectionAlong`; undefined for any other function. */
export function crossSectionTable(at: object): CrossSectionTable | undefined {
  return tables.get(at as CrossSectionAt);
}
