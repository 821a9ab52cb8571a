import { firstOf } from "../../numerics/arrays.js";
import { tableHtml } from "../../step/show/html.js";
import type { SurveyFault } from "./faults.js";

/** The faults as a table, those of a kind together; "" without any. */
export function faultsHtml(faults: readonly SurveyFault[]): string {
  if (faults.length === 0) return "";
  const rows = likeFaults(faults).map((group) => {
    const { file, field, rule, hint } = firstOf(group);
    const values = [...new Set(group.map(({ value }) => value))];
    const got = values.slice(0, MOST_VALUES).join("; ");
    const value = values.length > MOST_VALUES ? `${got}; …` : got;
    return { file, row: rowsText(group), field, rule, value, hint };
  });
  const columns = [
    { field: "file", label: "File" },
    { field: "row", label: "Row" },
    { field: "field", label: "Field" },
    { field: "rule", label: "Must be" },
    { field: "value", label: "Got" },
    { field: "hint", label: "Likely cause or advice" },
  ];
  const caption = "Rows count as in an editor, the header being row 1.";
  return tableHtml({ id: "faults", caption, columns, rows });
}

const MOST_VALUES = 4;

/** Faults of one kind in one file and field stand together. */
function likeFaults(faults: readonly SurveyFault[]): readonly (readonly SurveyFault[])[] {
  const groups = new Map<string, SurveyFault[]>();
  for (const fault of faults) {
    const { file, field, code, rule, hint } = fault;
    const key = JSON.stringify([file, field, code, rule, hint]);
    groups.set(key, [...(groups.get(key) ?? []), fault]);
  }
  return [...groups.values()];
}

/** "3, 7, 20–39 and 15 more"; null where a fault is of the whole file. */
function rowsText(group: readonly SurveyFault[]): string | null {
  const rows = group.flatMap(({ row }) => row ?? []);
  if (rows.length === 0) return null;
  const runs: [number, number][] = [];
  for (const row of rows.toSorted((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last !== undefined && row === last[1] + 1) last[1] = row;
    else runs.push([row, row]);
  }
  const text = runs.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(", ");
  const more = group.reduce((sum, fault) => sum + fault.more, 0);
  return more === 0 ? text : `${text} and ${more.toLocaleString("en")} more`;
}
