import { orNull } from "../numerics/statistics/present.js";
import type { Table } from "../step/figure.js";
import { coregistrationTables } from "./coregister/tables.js";
import type { CampaignPlacement } from "./place-campaign.js";

/** The tables of how the readings got their places. */
export function placementTables(placements: readonly CampaignPlacement[]): readonly Table[] {
  return [positionTable(placements), ...coregistrationTables(placements), ...pegTables(placements)];
}

/** One row a pass: what its positions are worth. */
function positionTable(placements: readonly CampaignPlacement[]): Table {
  return {
    id: "positions",
    caption:
      "The positions: jitter from one to the next, spikes replaced, gaps, standing still, steps " +
      "back.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "file", label: "File" },
      { field: "positions", label: "Positions" },
      { field: "jitter_m", label: "Jitter (m)", digits: 2 },
      { field: "spikes", label: "Spikes" },
      { field: "bridged", label: "Bridged readings" },
      { field: "bridges", label: "Gaps bridged" },
      { field: "left", label: "Gaps left" },
      { field: "stood", label: "Readings standing" },
      { field: "back_m", label: "Walked back (m)", digits: 1 },
      { field: "lag_s", label: "Lag (s)", digits: 2 },
    ],
    rows: placements.flatMap(({ campaign, passes, lag_s }) =>
      passes.map(({ file, positions, jitter_m, spikes, bridged, gaps, stood, stepsBack_m }) => ({
        ...{ campaign, file, positions, jitter_m: orNull(jitter_m), spikes, bridged },
        bridges: gaps.filter(({ isBridged }) => isBridged).length,
        left: gaps.filter(({ isBridged }) => !isBridged).length,
        ...{ stood, back_m: stepsBack_m, lag_s },
      })),
    ),
  };
}

/** The pegs against the chainages found; no table without pegs. */
export function pegTables(placements: readonly CampaignPlacement[]): readonly Table[] {
  const rows = placements.flatMap(({ campaign, pegs }) =>
    pegs.map((peg) => ({
      campaign,
      peg: peg.object,
      stated_m: peg.stated_m,
      measured_m: peg.measured_m,
      difference_m: peg.measured_m - peg.stated_m,
      from: peg.file === null ? "its own position" : `its time in ${peg.file}`,
    })),
  );
  if (rows.length === 0) return [];
  const columns = [
    { field: "campaign", label: "Campaign" },
    { field: "peg", label: "Peg" },
    { field: "stated_m", label: "Says (m)", digits: 1 },
    { field: "measured_m", label: "Found at (m)", digits: 1 },
    { field: "difference_m", label: "Difference (m)", digits: 1 },
    { field: "from", label: "Found by" },
  ];
  const caption = "Pegs: the chainage that each says and the one that the positions give it.";
  return [{ id: "pegs", caption, columns, rows }];
}
