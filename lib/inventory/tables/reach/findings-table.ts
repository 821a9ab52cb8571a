import type { Findings } from "../../../chain/findings.js";
import { column, lineColumn, partitionColumns, stretchColumns } from "../stored-table.js";
import type { ReachTable } from "./reach-table.js";

export const findingsTable: ReachTable = {
  name: "findings",
  meaning:
    "Every entry of every list of findings.json, the reach's own words; `detail` is the entry itself.",
  columns: [
    ...partitionColumns,
    column("list", "text", "The list of findings.json that holds the entry."),
    column("entry", "integer", "Its place in that list, from 1."),
    lineColumn,
    ...stretchColumns,
    column("detail", "text", "The entry as JSON."),
  ],
  key: ["reach", "campaign", "list", "entry"],
  rows: ({ reach, campaign, findings }) =>
    listsOf(findings).flatMap(([list, entries]) =>
      entries.map((entry, i) => {
        const { line, from_m, to_m, chainage_m } = entry;
        const [from, to] = [from_m ?? chainage_m ?? null, to_m ?? chainage_m ?? null];
        const of = entry.campaign ?? entry.later ?? campaign;
        return [reach, of, list, i + 1, line ?? null, from, to, JSON.stringify(entry)];
      }),
    ),
};

/** What entries of several lists share; each has more. */
interface Entry {
  readonly campaign?: string;
  readonly later?: string;
  readonly line?: string;
  readonly from_m?: number;
  readonly to_m?: number;
  readonly chainage_m?: number;
}

function listsOf(findings: Findings): readonly (readonly [string, readonly Entry[]])[] {
  return Object.entries(findings).flatMap(([name, list]) => {
    if (name === "survey") return [];
    return [[name, [list].flat() as readonly Entry[]] as const];
  });
}
