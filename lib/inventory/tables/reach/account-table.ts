import { column, partitionColumns } from "../stored-table.js";
import type { ReachTable } from "./reach-table.js";

export const accountTable: ReachTable = {
  name: "account",
  meaning: "What became of every reading, in numbers.",
  columns: [
    ...partitionColumns,
    column("fate", "text", "kept, corrected or set aside."),
    column("cause", "text", "Why readings are set aside; empty for those in use."),
    column("readings", "integer", "Readings that fared so."),
  ],
  key: ["reach", "campaign", "fate", "cause"],
  rows: ({ reach, account }) =>
    account.map(({ campaign, fate, cause, readings }) => [reach, campaign, fate, cause, readings]),
};
