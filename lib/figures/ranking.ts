import type { VegaLiteSpec } from "../step/figure.js";
import { extent, rounded, significant } from "./numbers.js";
import { figureSpec, type Layer, type Position } from "./spec.js";
import { textWidth } from "./text.js";
import { coloursOf, fontSizes, greys } from "./theme.js";

/** Zones with a score that is a sum of named contributions. */
export interface RankingFigure {
  readonly title: string;
  readonly subtitle?: string;
  /** Width of the bars' area, px; default 560. */
  readonly width_px?: number;
  /** Best first; drawn from the top. */
  readonly zones: readonly RankedZone[];
  /** Label of the score's axis, such as "Score (log odds)". */
  readonly scoreLabel: string;
  /** Evidence name → colour; others take the next of `classColours`. */
  readonly colours?: Readonly<Record<string, string>>;
}

export interface RankedZone {
  /** Unique, such as "1 · 612–668 m". */
  readonly name: string;
  /** The score, marked by a dot where the contributions do not add up to it. */
  readonly score: number;
  /** Such as "high"; written beside the bar. */
  readonly band: string;
  /** 0 to 1; null where it was not estimated. */
  readonly probability: number | null;
  /** Signed; positive to the right of zero, negative to the left. */
  readonly contributions: readonly {
    readonly name: string;
    readonly value: number;
    readonly text?: string;
  }[];
}

const barStep_px = 30;

/**
 * Zones as horizontal bars of stacked contributions, the band and the probability beside each, as a
 * Vega-Lite 5 specification.
 *
 * @param figure the zones, best first
 * @returns plain JSON
 */
export function rankingSpec(figure: RankingFigure): VegaLiteSpec {
  const width_px = figure.width_px ?? 560;
  const y = zonePosition(figure.zones.map(({ name }) => name));
  const rows = figure.zones.flatMap(barRows);
  return figureSpec(figure, width_px + 260, {
    width: width_px,
    height: { step: barStep_px },
    data: { values: rows },
    layer: [
      bars(figure, y, scorePosition(figure, rows)),
      zeroRule,
      scores(figure, y),
      notes(figure, y, width_px),
    ],
  });
}

function zonePosition(names: string[]): Position {
  const widest = Math.max(40, ...names.map((name) => textWidth(name, fontSizes.label)));
  const labelLimit = Math.ceil(widest) + 40;
  return {
    field: "z",
    type: "nominal",
    sort: names,
    axis: { title: null, labelLimit, domain: false, ticks: false, labelPadding: 8 },
  };
}

type BarRow = ReturnType<typeof barRows>[number];

/**
 * Bars with their ends worked out here: positive parts to the right of zero, negative to the left.
 */
function barRows(zone: RankedZone) {
  let [right, left] = [0, 0];
  return zone.contributions
    .filter(({ value }) => Number.isFinite(value) && value !== 0)
    .map(({ name, value, text }) => {
      const from = value > 0 ? right : left;
      if (value > 0) right += value;
      else left += value;
      const row = { z: zone.name, e: name, t: text ?? "", v: significant(value, 3) };
      return { ...row, a: rounded(from, 4), b: rounded(from + value, 4) };
    });
}

function scorePosition(figure: RankingFigure, rows: readonly BarRow[]): Position {
  const ends = rows.map(({ b }) => b ?? Number.NaN);
  const [low, high] = extent([ends, figure.zones.map(({ score }) => score), [0]]) ?? [0, 0];
  const margin = Math.max((high - low) * 0.04, 1e-6);
  return {
    field: "a",
    type: "quantitative",
    scale: { domain: [low < 0 ? low - margin : 0, high + margin], nice: false },
    axis: { title: figure.scoreLabel, tickCount: 6 },
  };
}

function bars(figure: RankingFigure, y: Position, x: Position): Layer {
  const names = figure.zones.flatMap(({ contributions }) => contributions.map(({ name }) => name));
  const domain = [...new Set(names)];
  const range = coloursOf(domain, figure.colours);
  return {
    mark: { type: "bar", height: 16, stroke: "#ffffff", strokeWidth: 1 },
    encoding: {
      ...{ y, x, x2: { field: "b" } },
      color: {
        field: "e",
        type: "nominal",
        scale: { domain, range },
        legend: { title: "Evidence", symbolType: "square", symbolStrokeWidth: 0, offset: 150 },
      },
      tooltip: [
        { field: "z", title: "Zone" },
        { field: "e", title: "Evidence" },
        { field: "v", title: "Contribution" },
        { field: "t", title: "Because" },
      ],
    },
  };
}

const zeroRule: Layer = {
  data: { values: [{ a: 0 }] },
  mark: { type: "rule", color: greys.quiet },
  encoding: { x: { field: "a", type: "quantitative" } },
};

function scores(figure: RankingFigure, y: Position): Layer {
  const values = figure.zones.map(({ name, score }) => ({ z: name, p: rounded(score, 3) }));
  return {
    data: { values },
    mark: { type: "tick", color: greys.text, thickness: 2, height: 22 },
    encoding: {
      y,
      x: { field: "p", type: "quantitative" },
      tooltip: [{ field: "p", title: figure.scoreLabel }],
    },
  };
}

function notes(figure: RankingFigure, y: Position, width_px: number): Layer {
  const values = figure.zones.map(({ name, band, probability }) => ({
    z: name,
    t: probability === null ? band : `${band}, probability ${probability.toFixed(2)}`,
  }));
  return {
    data: { values },
    mark: { type: "text", align: "left", x: width_px + 10 },
    encoding: { y, text: { field: "t" } },
  };
}
