import { zipped } from "../../../numerics/arrays.js";
import { column, geometryColumn, partitionColumns, stretchColumns } from "../stored-table.js";
import { lineStringWkb } from "../wkb.js";
import type { ReachTable } from "./reach-table.js";

export const zonesTable: ReachTable = {
  name: "zones",
  meaning: "Stretches where evidence for a seepage path gathers, as their reach ranks them.",
  columns: [
    ...partitionColumns,
    column("zone", "integer", "Rank within the reach, 1 has the strongest evidence."),
    ...stretchColumns,
    column("score", "real", "Sum of the weights of evidence, log-odds."),
    column("probability", "real", "The score under the reach's weights; it ranks, no more."),
    column("band", "text", "low, moderate or high."),
    column("exit_gradient_p10", "real", "Landward exit gradient at design water level, 10 %."),
    column("exit_gradient_p50", "real", "The same, 50 %; null where the data do not tell it."),
    column("exit_gradient_p90", "real", "The same, 90 %."),
    column("evidence", "text", "Statements, with their weights in log-odds."),
    geometryColumn,
  ],
  key: ["reach", "campaign", "zone"],
  geometry: "LineString",
  rows: ({ reach, campaign, findings, paths }) =>
    zipped(findings.seepage, paths.seepage).map(([zone, path]) => [
      ...[reach, campaign, zone.rank, zone.from_m, zone.to_m],
      ...[zone.score, zone.probability, zone.band],
      zone.exitGradient?.p10 ?? null,
      zone.exitGradient?.p50 ?? null,
      zone.exitGradient?.p90 ?? null,
      zone.evidence
        .map(({ name, weight, statement }) => `${name} (${weight.toFixed(2)}): ${statement}`)
        .join("; "),
      lineStringWkb(path),
    ]),
};
