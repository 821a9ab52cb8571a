import type { Table } from "../step/figure.js";
import type { Seepage } from "./seepage.js";

/** One row a zone: where, how strong, and on what evidence. */
export function seepageTable(value: Seepage): Table {
  return {
    id: "seepage-zones",
    caption: "Seepage zones by rank",
    columns: [
      { field: "rank", label: "Rank" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "band", label: "Band" },
      { field: "probability", label: "Probability under the weights", digits: 2 },
      { field: "gradient", label: "Exit gradient, 10–50–90 %" },
      { field: "why", label: "Evidence" },
    ],
    rows: value.zones.map((zone) => ({
      rank: zone.rank,
      from_m: zone.from_m,
      to_m: zone.to_m,
      band: zone.band,
      probability: zone.probability,
      gradient:
        zone.exitGradient === null
          ? null
          : [zone.exitGradient.p10, zone.exitGradient.p50, zone.exitGradient.p90]
              .map((value) => value.toFixed(2))
              .join(" – "),
      why: zone.evidence
        .filter((piece) => piece.weight > 0.1)
        .map((piece) => piece.statement)
        .join(" "),
    })),
  };
}
