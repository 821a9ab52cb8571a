import { zipped } from "../../../numerics/arrays.js";
import {
  column,
  geometryColumn,
  lineColumn,
  partitionColumns,
  stretchColumns,
} from "../stored-table.js";
import { lineStringWkb } from "../wkb.js";
import type { ReachTable } from "./reach-table.js";

export const blocksTable: ReachTable = {
  name: "blocks",
  meaning: "Stretches in which the bank is of like ground.",
  columns: [
    ...partitionColumns,
    lineColumn,
    column("block", "text", "Name of the block in its reach."),
    ...stretchColumns,
    column("from_lo_m", "real", "Low end of the start's 90 % interval, m."),
    column("from_hi_m", "real", "High end of the start's 90 % interval, m."),
    column("to_lo_m", "real", "Low end of the end's 90 % interval, m."),
    column("to_hi_m", "real", "High end of the end's 90 % interval, m."),
    column("class", "text", "Class within the reach: a letter means nothing in another reach."),
    column("class_probability", "real", "Probability of that class, among those of the reach."),
    column("readings", "integer", "Readings in use within the block."),
    column("masked_pct", "real", "Share of its length without an estimate, %."),
    geometryColumn,
  ],
  key: ["reach", "campaign", "line", "from_m", "block"],
  geometry: "LineString",
  rows: ({ reach, campaign, findings, blocks }) =>
    zipped(findings.blocks, blocks).map(([block, { path }]) => [
      reach,
      campaign,
      block.line ?? null,
      block.id,
      ...[block.from_m, block.to_m, ...block.fromInterval_m, ...block.toInterval_m],
      block.class,
      block.classProbability ?? null,
      block.readings,
      block.masked_pct,
      lineStringWkb(path),
    ]),
};
