import { zipped } from "../../../numerics/arrays.js";
import { column, lineColumn, partitionColumns } from "../stored-table.js";
import type { ReachTable } from "./reach-table.js";

export const levelsTable: ReachTable = {
  name: "levels",
  meaning: "Resistivity of the main line's blocks by depth slice.",
  columns: [
    ...partitionColumns,
    lineColumn,
    column("block", "text", "Name of the block in its reach."),
    column("top_m", "real", "Top of the slice below the crest, m."),
    column("base_m", "real", "Base of the slice below the crest, m."),
    column("log10_ohm_m", "real", "Median over the block's stations, log10 of ohm-m."),
    column("sd", "real", "Its standard deviation, what all stations share included, decades."),
    column("at_25_degC", "yes or no", "True at 25 °C; false at field temperature."),
  ],
  key: ["reach", "campaign", "line", "block", "top_m"],
  rows: ({ reach, campaign, findings, blocks }) =>
    zipped(findings.blocks, blocks).flatMap(([{ id, line = null }, { levels }]) =>
      levels.map((one) => [
        ...[reach, campaign, line, id],
        ...[one.top_m, one.base_m, one.log10, one.sd, one.at25],
      ]),
    ),
};
