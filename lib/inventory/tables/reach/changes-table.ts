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

export const changesTable: ReachTable = {
  name: "changes",
  meaning: "Stretches where the ground changed since an earlier campaign; `campaign` is the later.",
  columns: [
    ...partitionColumns,
    lineColumn,
    ...stretchColumns,
    column("earlier", "text", "Label of the earlier campaign."),
    column("direction", "text", "fell or rose, of the resistivity."),
    column("ratio", "real", "Resistivity, later over earlier, at 25 °C."),
    column("ratio_lo", "real", "Low end of the ratio's 90 % interval."),
    column("ratio_hi", "real", "High end of the ratio's 90 % interval."),
    column("q", "real", "p-value, adjusted for all that was tried in the reach."),
    column("slices", "text", "Depth slices in which it shows, m."),
    geometryColumn,
  ],
  key: ["reach", "campaign", "line", "from_m", "earlier", "direction"],
  geometry: "LineString",
  rows: ({ reach, findings, paths }) =>
    zipped(findings.changes, paths.changes).map(([change, path]) => [
      ...[reach, change.later, change.line ?? null, change.from_m, change.to_m],
      ...[change.earlier, change.direction, change.ratio],
      ...[change.ratioInterval?.[0] ?? null, change.ratioInterval?.[1] ?? null, change.q],
      change.slices.join(", "),
      lineStringWkb(path),
    ]),
};
