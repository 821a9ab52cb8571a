import { isoTime } from "../../iso-time.js";
import type { TableField } from "../package/descriptor.js";
import type { RoleField } from "../package/roles.js";
import { type CellFault, type CellReader, type CellType, cellReader } from "./cell.js";

/** How one column of a file is read: by its role and by its schema. */
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
      ...rulesOf(role ?? {}, (bound) => bound as number | string),
      ...rulesOf({ ...constraints, oneOf: constraints.enum }, (bound) => asValue(bound, type)),
    ],
  };
}

interface Bounds {
  readonly minimum?: number | string;
  readonly maximum?: number | string;
  readonly above?: number;
  readonly oneOf?: readonly unknown[] | undefined;
}

/** The rules that bounds make, each bound as a value of the column. */
function rulesOf(
  { minimum, maximum, above, oneOf }: Bounds,
  asCell: (bound: unknown) => number | string,
): ColumnPlan["rules"] {
  const [least, most] = [asCell(minimum), asCell(maximum)];
  const listed = oneOf?.map(asCell);
  return [
    ...(minimum === undefined ? [] : [outOfRange(`at least ${minimum}`, (v) => v >= least)]),
    ...(maximum === undefined ? [] : [outOfRange(`at most ${maximum}`, (v) => v <= most)]),
    ...(above === undefined ? [] : [outOfRange(`above ${above}`, (v) => Number(v) > above)]),
    ...(listed === undefined
      ? []
      : [broken("not-allowed", `one of ${oneOf?.join(", ")}`, (v) => listed.includes(v))]),
  ];
}

function asValue(bound: unknown, type: CellType): number | string {
  if (type === "datetime") return Number(isoTime(String(bound)));
  return type === "number" || type === "integer" ? Number(bound) : String(bound);
}

type Test = (value: number | string) => boolean;

function outOfRange(rule: string, holds: Test) {
  return broken("out-of-range", rule, holds);
}

function broken(code: string, rule: string, holds: Test) {
  return (value: number | string) => (holds(value) ? null : { code, rule });
}
