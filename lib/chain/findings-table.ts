import type { Table } from "../step/figure.js";
import { significantText } from "../step/number-text.js";
import type { Findings, OfLine, Uncertain } from "./findings.js";
import { campaignsOf, placesOf } from "./front/places.js";

/** The findings as the tables that a reader looks for first. */
export function findingsTables(findings: Findings): readonly Table[] {
  const tables = [
    blocksTable(findings),
    changesTable(findings),
    seepageTable(findings),
    unexplainedTable(findings),
  ];
  return tables
    .filter((table) => table.rows.length > 0)
    .map(withLines)
    .map((table) => withSurvival(table, findings));
}

/** Where several lines were walked, the line stands first in each row that has one. */
function withLines(table: Table): Table {
  if (!table.rows.some(({ line }) => line !== undefined && line !== null)) return table;
  return { ...table, columns: [{ field: "line", label: "Line" }, ...table.columns] };
}

/** Where alternatives were tried, under how many of them a finding is not made stands last. */
function withSurvival(table: Table, { robustness }: Findings): Table {
  const isTold = robustness.length > 0 && table.rows.some(({ lost }) => lost !== undefined);
  if (!isTold) return table;
  const label = `Not made under, of ${robustness.length} alternatives`;
  return { ...table, columns: [...table.columns, { field: "lost", label, digits: 0 }] };
}

/** Under how many alternatives a finding is not made. */
const survivalOf = ({ lostUnder }: Uncertain) =>
  lostUnder === undefined ? {} : { lost: lostUnder.length };

/** The line of a finding, where several were walked. */
const lineOf = ({ line }: OfLine) => (line === undefined ? {} : { line });

function blocksTable(findings: Findings): Table {
  return {
    id: "findings-blocks",
    caption: "Where the bank is of one make",
    columns: [
      { field: "id", label: "Block" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "class", label: "Class" },
      { field: "resistivity", label: "Median resistivity by slice (ohm-m)" },
      { field: "masked_pct", label: "Set aside (%)", digits: 0 },
    ],
    rows: findings.blocks.map((block) => ({
      ...lineOf(block),
      id: block.id,
      from_m: block.from_m,
      to_m: block.to_m,
      class: block.class,
      resistivity: block.resistivity_ohm_m
        .map((slice) => `${slice.top_m}–${slice.base_m} m: ${significantText(slice.median)}`)
        .join("; "),
      masked_pct: block.masked_pct,
      ...survivalOf(block),
    })),
  };
}

function changesTable(findings: Findings): Table {
  return {
    id: "findings-changes",
    caption: "Where the ground changed between campaigns",
    columns: [
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "what", label: "Resistivity" },
      { field: "ratio", label: "Later / earlier at 25 °C", digits: 2 },
      { field: "q", label: "q" },
    ],
    rows: findings.changes.map((change) => ({
      ...lineOf(change),
      from_m: change.from_m,
      to_m: change.to_m,
      what: `${change.direction}, ${change.earlier} to ${change.later}`,
      ratio: change.ratio,
      q: change.q < 0.001 ? "< 0.001" : change.q.toFixed(3),
      ...survivalOf(change),
    })),
  };
}

function seepageTable(findings: Findings): Table {
  return {
    id: "findings-seepage",
    caption: "Where evidence for a seepage path gathers, by rank",
    columns: [
      { field: "rank", label: "Rank" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "band", label: "Band" },
      { field: "probability", label: "Probability under the weights", digits: 2 },
      { field: "evidence", label: "Speaking for it" },
    ],
    rows: findings.seepage.map((zone) => ({
      rank: zone.rank,
      from_m: zone.from_m,
      to_m: zone.to_m,
      band: zone.band,
      probability: zone.probability,
      evidence: zone.evidence
        .filter((piece) => piece.weight > 0.1)
        .map((piece) => piece.name)
        .join(", "),
      ...survivalOf(zone),
    })),
  };
}

function unexplainedTable(findings: Findings): Table {
  return {
    id: "findings-go-back",
    caption: "Where to go back and look",
    columns: [
      { field: "what", label: "What" },
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
    ],
    rows: [
      ...placesOf(findings.unexplained).map((entry) => ({
        ...lineOf(entry),
        what: `Distorted readings that no note explains (${campaignsOf(entry).join(", ")})`,
        from_m: entry.from_m,
        to_m: entry.to_m,
      })),
      ...findings.silentNotes.map((entry) => ({
        ...lineOf(entry),
        what: `Noted, but without a trace in the readings: ${entry.object}`,
        from_m: entry.from_m,
        to_m: entry.to_m,
      })),
    ],
  };
}
