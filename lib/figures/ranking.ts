import type { VegaLiteSpec } from "../step/figure.js";
import { extent, rounded, significant } from "./numbers.js";
import { textWidth } from "./text.js";
import { classColours, fontSizes, greys, theme } from "./theme.js";
import { titleBlock } from "./title.js";

type Json = Readonly<Record<string, unknown>>;

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
  const order = figure.zones.map(({ name }) => name);
  const y = { field: "z", type: "nominal", sort: order, axis: yAxis(order) };
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(figure, width_px + 260),
    config: theme,
    width: width_px,
    height: { step: barStep_px },
    data: { values: barRows(figure) },
    layer: [bars(figure, y), zero(), ...scores(figure, y), ...notes(figure, y, width_px)],
  };
}

function yAxis(order: readonly string[]): Json {
  const longest = order.reduce(
    (most, name) => Math.max(most, textWidth(name, fontSizes.label)),
    40,
  );
  return {
    title: null,
    labelLimit: Math.ceil(longest) + 40,
    domain: false,
    ticks: false,
    labelPadding: 8,
  };
}

/** Bars with their ends worked out here: positive parts to the right of zero, negative to the left. */
function barRows(figure: RankingFigure): readonly Json[] {
  return figure.zones.flatMap((zone) => {
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
  });
}

function xEncoding(figure: RankingFigure, field: string): Json {
  const rows = barRows(figure);
  const ends = rows.map(({ b }) => b as number);
  const range = extent([ends, figure.zones.map(({ score }) => score), [0]])!;
  const margin = Math.max((range[1] - range[0]) * 0.04, 1e-6);
  const domain = [range[0] < 0 ? range[0] - margin : 0, range[1] + margin];
  return {
    field,
    type: "quantitative",
    scale: { domain, nice: false },
    axis: { title: figure.scoreLabel, tickCount: 6 },
  };
}

function bars(figure: RankingFigure, y: Json): Json {
  const names = [
    ...new Set(figure.zones.flatMap(({ contributions }) => contributions.map(({ name }) => name))),
  ];
  const range = names.map(
    (name, i) => figure.colours?.[name] ?? classColours[i % classColours.length]!,
  );
  return {
    mark: { type: "bar", height: 16, stroke: "#ffffff", strokeWidth: 1 },
    encoding: {
      y,
      x: xEncoding(figure, "a"),
      x2: { field: "b" },
      color: {
        field: "e",
        type: "nominal",
        scale: { domain: names, range },
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

function zero(): Json {
  return {
    data: { values: [{ a: 0 }] },
    mark: { type: "rule", color: greys.quiet },
    encoding: { x: { field: "a", type: "quantitative" } },
  };
}

function scores(figure: RankingFigure, y: Json): readonly Json[] {
  const values = figure.zones.map(({ name, score }) => ({ z: name, p: rounded(score, 3) }));
  return [
    {
      data: { values },
      mark: { type: "tick", color: greys.text, thickness: 2, height: 22 },
      encoding: {
        y,
        x: { field: "p", type: "quantitative" },
        tooltip: [{ field: "p", title: figure.scoreLabel }],
      },
    },
  ];
}

function notes(figure: RankingFigure, y: Json, width_px: number): readonly Json[] {
  const values = figure.zones.map(({ name, band, probability }) => ({
    z: name,
    t: probability === null ? band : `${band}, probability ${probability.toFixed(2)}`,
  }));
  return [
    {
      data: { values },
      mark: { type: "text", align: "left", x: width_px + 10 },
      encoding: { y, text: { field: "t" } },
    },
  ];
}
