import type { PassCoverage } from "../../place/coverage/coverage.js";
import { coverageFigure } from "../../place/coverage/coverage-figure.js";
import { totalLength_m } from "../../place/coverage/covered-stretches.js";
import { channelsTable, emptyTable, gapsTable } from "../../place/coverage/missing-tables.js";
import type { QuantileRange } from "../../place/coverage/walked-steps.js";
import type { Table } from "../../step/figure.js";
import { escapeHtml, tableHtml } from "../../step/show/html.js";
import { renderSvg } from "../../step/show/render-svg.js";
import type { SurveyCheck } from "./check-survey.js";

/**
 * How the readings cover the bank: a figure, and tables of passes, positions and gaps; "" without
 * any.
 */
export async function coverageHtml({ coverage, placing }: SurveyCheck): Promise<string> {
  if (coverage.length === 0) return "";
  const figure = coverageFigure(coverage);
  const svg = await renderSvg(figure.spec, { prefix: "coverage-", warnings: "ignore" });
  const drawn = `<figure>${svg}<figcaption>${escapeHtml(figure.caption)}</figcaption></figure>`;
  const tables = [
    passesTable(coverage),
    positionsTable(coverage),
    ...placing,
    emptyTable(coverage),
    gapsTable(coverage),
    channelsTable(coverage),
  ];
  return [drawn, ...tables.flatMap((table) => (table === null ? [] : tableHtml(table)))].join("\n");
}

const ranged = (spread: QuantileRange | null) =>
  spread === null
    ? null
    : `${spread.median.toFixed(2)} (${spread.p5.toFixed(2)}–${spread.p95.toFixed(2)})`;

function passesTable(coverage: readonly PassCoverage[]): Table {
  return {
    id: "passes",
    caption: "The passes. In brackets: what nine of ten lie between.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "file", label: "File" },
      { field: "readings", label: "Readings", digits: 0 },
      { field: "used", label: "In use", digits: 0 },
      { field: "covered_m", label: "Covers (m)", digits: 0 },
      { field: "spacing", label: "Spacing (m)" },
      { field: "speed", label: "Walking speed (m/s)" },
      { field: "pauses", label: "Pauses over 1 min" },
    ],
    rows: coverage.map(({ campaign, file, readings, used, ...pass }) => ({
      ...{ campaign, file, readings, used },
      covered_m: totalLength_m(pass.stretches.filter(({ kind }) => kind !== "none")),
      spacing: ranged(pass.spacing_m),
      speed: ranged(pass.speed_m_per_s),
      pauses: pausesText(pass),
    })),
  };
}

function pausesText({ pauses, longestPause_s }: Pick<PassCoverage, "pauses" | "longestPause_s">) {
  return pauses === 0 ? "none" : `${pauses}, longest ${(longestPause_s / 60).toFixed(0)} min`;
}

function positionsTable(coverage: readonly PassCoverage[]): Table {
  return {
    id: "positions",
    caption: "Their positions.",
    columns: [
      { field: "file", label: "File" },
      { field: "positions", label: "Readings with a position", digits: 0 },
      { field: "jitter_m", label: "Jitter (m)", digits: 2 },
      { field: "spikes", label: "Spikes replaced", digits: 0 },
      { field: "bridged", label: "Bridged readings", digits: 0 },
      { field: "stood", label: "Readings standing still", digits: 0 },
      { field: "back_m", label: "Walked back (m)", digits: 0 },
    ],
    rows: coverage.map(({ placement }) => {
      const { file, positions, jitter_m, spikes, bridged, stood, stepsBack_m: back_m } = placement;
      return { file, positions, jitter_m, spikes, bridged, stood, back_m };
    }),
  };
}
