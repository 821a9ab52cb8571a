import type { Table } from "../step/figure.js";
import type { JudgedStretch, Quantiles } from "./hydraulics/judged-stretch.js";
import type { Seepage } from "./seepage.js";

/** Zones, their evidence piece by piece, the hydraulics by stretch, and what could be missed. */
export function seepageTables(value: Seepage): readonly Table[] {
  const tables = [
    zonesTable(value),
    evidenceTable(value),
    hydraulicsTable(value),
    detectionTable(value),
    weightsTable(value),
  ];
  return tables.filter(({ rows }) => rows.length > 0);
}

/** One row a zone: where, how strong, how firm, and on what evidence. */
function zonesTable({ zones }: Seepage): Table {
  return {
    id: "seepage-zones",
    caption: "Seepage zones by rank",
    columns: [
      { field: "rank", label: "Rank" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "band", label: "Band" },
      { field: "probability", label: "Probability under the weights", digits: 2 },
      { field: "ranks", label: "Ranks within the weights' ranges" },
      { field: "kept", label: "Band stays", digits: 2 },
      { field: "gradient", label: "Exit gradient, 10–50–90 %" },
    ],
    rows: zones.map((zone) => ({
      rank: zone.rank,
      from_m: zone.from_m,
      to_m: zone.to_m,
      band: zone.band,
      probability: zone.probability,
      ranks: [...new Set(zone.rankRange)].join("–"),
      kept: zone.bandKept,
      gradient: zone.exitGradient === null ? zone.gradientWhy : quantilesText(zone.exitGradient),
    })),
  };
}

function evidenceTable({ zones }: Seepage): Table {
  return {
    id: "seepage-evidence",
    caption: "What speaks for and against each zone",
    columns: [
      { field: "rank", label: "Rank" },
      { field: "name", label: "Evidence" },
      { field: "statement", label: "What it says" },
      { field: "weight", label: "Weight (log-odds)", digits: 2 },
      { field: "source", label: "Rests on" },
    ],
    rows: zones.flatMap(({ rank, evidence }) =>
      evidence.map(({ name, statement, weight, source }) => {
        return { rank, name, statement, weight, source };
      }),
    ),
  };
}

/** Stretches that are told apart; one row of the whole bank where none is. */
function hydraulicsTable({ stretches }: Seepage): Table {
  const known = stretches.filter(({ hydraulics }) => hydraulics !== null);
  const told = known.filter(({ exitGradient }) => exitGradient !== null);
  const shown = told.length > 0 ? told : known.slice(0, 1);
  return {
    id: "seepage-hydraulics",
    caption:
      told.length > 0
        ? `Hydraulics at design water level of the ${told.length} stretches (of ${stretches.length}) that the data tell apart`
        : "Hydraulics at design water level: no stretch is told from another, these numbers are the bank's",
    columns: [
      { field: "where", label: "Stretch (m)" },
      { field: "head", label: "Head (m)", digits: 1 },
      { field: "gradient", label: "Exit gradient, 10–50–90 %" },
      { field: "safety", label: "Critical over exit gradient" },
      { field: "erosion", label: "Critical head of erosion over head" },
      { field: "creep", label: "Creep ratio, Lane and Bligh" },
      { field: "spread", label: "What the gradient's spread comes from" },
      { field: "sources", label: "From" },
    ],
    rows: shown.flatMap((stretch) => hydraulicsRow(stretch, told.length > 0)),
  };
}

function hydraulicsRow({ from_m, to_m, hydraulics }: JudgedStretch, isTold: boolean) {
  if (hydraulics === null) return [];
  const { creep, shares } = hydraulics;
  return [
    {
      where: isTold ? `${from_m.toFixed(0)}–${to_m.toFixed(0)}` : "whole bank",
      head: hydraulics.head_m,
      gradient: quantilesText(hydraulics.exitGradient),
      safety: quantilesText(hydraulics.safety),
      erosion: quantilesText(hydraulics.erosionSafety),
      creep: `${creep.lane.toFixed(1)}, ${creep.bligh.toFixed(1)}`,
      spread: shares
        .filter(({ share }) => share >= 0.05)
        .map(({ input, share }) => `${input} ${Math.round(100 * share)} %`)
        .join(", "),
      sources: hydraulics.sources,
    },
  ];
}

function detectionTable({ detection }: Seepage): Table {
  return {
    id: "seepage-missed",
    caption: "How often a body of sand 1.2 m down would have made a zone, by the walk alone",
    columns: [
      { field: "length_m", label: "Length (m)" },
      { field: "thickness_m", label: "Thickness (m)", digits: 1 },
      { field: "probability", label: "Share of places", digits: 2 },
      { field: "places", label: "Places tried" },
    ],
    rows: detection
      .filter(({ places }) => places > 0)
      .map(({ length_m, thickness_m, probability, places }) => {
        return { length_m, thickness_m, probability, places };
      }),
  };
}

function weightsTable({ weights }: Seepage): Table {
  return {
    id: "seepage-weights",
    caption: "Weights of evidence (log-odds)",
    columns: [
      { field: "name", label: "Evidence" },
      { field: "present", label: "Present", digits: 2 },
      { field: "absent", label: "Absent", digits: 2 },
      { field: "sd", label: "Standard deviation", digits: 2 },
      { field: "from", label: "From" },
    ],
    rows: Object.entries(weights).map(([name, weight]) => ({ name, ...weight })),
  };
}

export const quantilesText = ({ p10, p50, p90 }: Quantiles) =>
  [p10, p50, p90].map((value) => value.toFixed(2)).join(" – ");
