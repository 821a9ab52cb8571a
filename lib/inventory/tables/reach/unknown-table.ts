import { column, partitionColumns, stretchColumns } from "../stored-table.js";
import type { ReachTable } from "./reach-table.js";

export const unknownTable: ReachTable = {
  name: "unknown",
  meaning: "Stretches of which something is not known that the inventory compares.",
  columns: [
    ...partitionColumns,
    ...stretchColumns,
    column("what", "text", "What is not known there."),
  ],
  key: ["reach", "campaign", "what", "from_m"],
  rows: ({ reach, unknown }) =>
    unknown.map(({ campaign, from_m, to_m, what }) => [reach, campaign, from_m, to_m, what]),
};
