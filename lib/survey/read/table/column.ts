import { isoTime } from "../../iso-time.js";
import type { TableField } from "../package/descriptor.js";
import type { RoleField } from "../package/roles.js";
import { type CellFault, type CellReader, type CellType, cellReader } from "./cell.js";

/** How one column of a file is read: by what its role asks and by what its schema says. */
export interface ColumnPlan {
  readonly name: string;
  readonly type: CellType;
  readonly read: CellReader;
  readonly missing: ReadonlySet<string>;
  readonly filled: boolean;
  readonly unique: boolean;
  /** Whether the column of the file is absent, and may be so. */
  readonly rules: readonly ((value: number | string) => CellFault | null)[];
}

const schemaTypes: Readonly<Record<string, CellType>> = {
  number: "number",
  integer: "integer",
  boolean: "boolean",
  datetime: "datetime",
  date: "date",
};

export function planColumn(
  field: TableField,
  role: RoleField | undefined,
  missingValues: readonly string[],
): ColumnPlan {
  const type = role?.type ?? schemaTypes[field.type ?? "string"] ?? "text";
  const read = cellReader(type, field);
  const constraints = field.constraints ?? {};
  return {
    name: field.name,
    type,
    read,
    missing: new Set(field.missingValues ?? missingValues),
    filled: role?.needed === "cell" || constraints.required === true,
    unique: constraints.unique === true,
    rules: [
      ...(role ? roleRules(role) : []),
      ...schemaRules(constraints, (bound) => asValue(bound, type)),
    ],
  };
}

function roleRules(role: RoleField): ColumnPlan["rules"] {
  const { minimum, maximum, above, oneOf } = role;
  return [
    ...(minimum === undefined ? [] : [atLeast(minimum, String(minimum))]),
    ...(maximum === undefined ? [] : [atMost(maximum, String(maximum))]),
    ...(above === undefined ? [] : [higherThan(above)]),
    ...(oneOf === undefined ? [] : [among(oneOf, oneOf)]),
  ];
}

function schemaRules(
  constraints: NonNullable<TableField["constraints"]>,
  asNumber: (bound: unknown) => number | string,
): ColumnPlan["rules"] {
  const { minimum, maximum } = constraints;
  const listed = constraints.enum;
  return [
    ...(minimum === undefined ? [] : [atLeast(asNumber(minimum), String(minimum))]),
    ...(maximum === undefined ? [] : [atMost(asNumber(maximum), String(maximum))]),
    ...(listed === undefined ? [] : [among(listed.map(asNumber), listed.map(String))]),
  ];
}

function asValue(bound: unknown, type: CellType): number | string {
  if (type === "datetime") return Number(isoTime(String(bound)));
  return type === "number" || type === "integer" ? Number(bound) : String(bound);
}

function atLeast(bound: number | string, shown: string) {
  const fault = { code: "out-of-range", rule: `at least ${shown}` };
  return (value: number | string) => (value >= bound ? null : fault);
}

function atMost(bound: number | string, shown: string) {
  const fault = { code: "out-of-range", rule: `at most ${shown}` };
  return (value: number | string) => (value <= bound ? null : fault);
}

function higherThan(bound: number) {
  const fault = { code: "out-of-range", rule: `above ${bound}` };
  return (value: number | string) => (Number(value) > bound ? null : fault);
}

function among(values: readonly (number | string)[], shown: readonly string[]) {
  const fault = { code: "not-allowed", rule: `one of ${shown.join(", ")}` };
  return (value: number | string) => (values.includes(value) ? null : fault);
}
