import { ROLE_FIELDS, type RoleField } from "../read/package/roles.js";
import type { Column } from "./columns/column.js";
import type { TimePlan } from "./columns/settle-time.js";
import type { FieldPlan } from "./fields.js";
import type { Layout } from "./layout/recognise-layout.js";
import { isoText, numberWriter } from "./reading-fields.js";
import { roleColumn, type TableRole } from "./settle-role.js";

/** The fields of a table whose header names the columns of its role. */
export function plainFields(
  role: TableRole,
  { layout, columns, time }: { layout: Layout; columns: readonly Column[]; time: TimePlan | null },
): readonly FieldPlan[] {
  return ROLE_FIELDS[role].flatMap((field): FieldPlan[] => {
    const column = columns[roleColumn(layout, field.name)];
    if (field.type === "datetime") return time === null ? [] : [timeField(field, time)];
    return column === undefined ? [] : [plainField(field, column)];
  });
}

function timeField({ name, needed }: RoleField, { from, how, read }: TimePlan): FieldPlan {
  return {
    ...{ name, type: "datetime", title: "UTC", from, how, isNeeded: needed === "cell" },
    write: (cells) => {
      const time_s = read(cells);
      return typeof time_s === "number" ? isoText(time_s) : (time_s ?? "");
    },
  };
}

function plainField({ name, type, needed }: RoleField, column: Column): FieldPlan {
  const isNumber = type === "number" || type === "integer";
  const write = numberWriter(column, 1, new Set());
  return {
    name,
    type: isNumber ? type : type === "date" ? "date" : "string",
    title: column.header,
    from: [column.header],
    how: "as it is",
    isNeeded: needed === "cell",
    write: isNumber ? write : (cells) => cells[column.index] ?? "",
  };
}
