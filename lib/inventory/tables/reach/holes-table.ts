import { zipped } from "../../../numerics/arrays.js";
import { column, geometryColumn, partitionColumns } from "../stored-table.js";
import { pointWkb } from "../wkb.js";
import type { ReachTable } from "./reach-table.js";

export const holesTable: ReachTable = {
  name: "holes",
  meaning: "Boreholes that the reach by itself proposes.",
  columns: [
    ...partitionColumns,
    column("hole", "text", "Name of the hole in its reach."),
    column("priority", "integer", "1 comes first in the reach."),
    column("chainage_m", "real", "Chainage, m."),
    column("offset_m", "real", "From the centreline, m, positive to the left."),
    column("depth_m", "real", "Proposed depth below the ground, m."),
    column("purpose", "text", "What it is for, in a few words."),
    column("reason", "text", "What it would settle."),
    geometryColumn,
  ],
  key: ["reach", "campaign", "priority", "hole"],
  geometry: "Point",
  rows: ({ reach, campaign, findings, paths }) =>
    zipped(findings.boreholes, paths.boreholes).map(([hole, at]) => [
      ...[reach, campaign, hole.id, hole.priority],
      ...[hole.chainage_m, hole.offset_m, hole.depth_m, hole.purpose, hole.reason],
      pointWkb(at),
    ]),
};
