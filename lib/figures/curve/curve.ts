import type { VegaLiteSpec } from "../../step/figure.js";
import { valuePositions } from "../axes.js";
import { extent, significant } from "../numbers.js";
import {
  figureSpec,
  fixedLayer,
  type Panel,
  type Position,
  type Positions,
  type Row,
} from "../spec.js";
import { figureWidth_px, fontSizes } from "../theme.js";
import { thinned } from "../thinning.js";
import { seriesColour, seriesLayers } from "./layers.js";
import { notesBefore, notesBehind } from "./notes.js";
import type { CurveFigure, CurveLayout, CurvePlot, CurveSeries } from "./types.js";

export type { CurveAxis, CurveFigure, CurvePlot, CurveSeries } from "./types.js";

const gap_px = 64;

/**
 * Curves, points with error bars and fitted lines in small plots, as a Vega-Lite 5 specification.
 * Numbers are rounded to four significant digits (five for x); long series are thinned to the
 * lowest and highest value of each 1.5 px.
 *
 * @param figure what to draw
 * @returns plain JSON
 */
export function curveSpec(figure: CurveFigure): VegaLiteSpec {
  const layout = layoutOf(figure);
  const { columns } = layout;
  return figureSpec(figure, figure.width_px ?? figureWidth_px, {
    columns,
    bounds: "flush",
    spacing: { row: figure.plots.length > columns ? 78 : 34, column: gap_px },
    concat: figure.plots.map((plot, i) => plotView(plot, layout, i)),
    resolve: {
      legend: { stroke: "shared", fill: "shared" },
      scale: { stroke: "shared", fill: "shared" },
    },
  });
}

function layoutOf(figure: CurveFigure): CurveLayout {
  const { plots, width_px = figureWidth_px } = figure;
  const columns = Math.min(figure.columns ?? 3, Math.max(1, plots.length));
  return {
    figure,
    columns,
    width_px: Math.floor((width_px - gap_px * (columns - 1)) / columns),
    height_px: columns === 1 ? 260 : 190,
    names: [...new Set(plots.flatMap(({ series }) => series.map(({ name }) => name)))],
    xDomain: xDomain(figure),
  };
}

/** Share of a time axis that stays free at each end. */
const edge = 0.03;

function xDomain({ x, plots }: CurveFigure): readonly [number, number] {
  if (x.domain !== undefined) return x.domain;
  const arrays = plots.flatMap(({ series }) => series.map((one) => one.x));
  const [from, to] = extent(arrays) ?? [0, 1];
  const [low, high] = x.withZero === true ? [Math.min(0, from), Math.max(0, to)] : [from, to];
  // A scale of times has round ends only where it is given them: marks keep off its edges.
  const room = x.scale === "time" ? edge * (high - low) : 0;
  return high > low ? [low - room, high + room] : [low - 0.5, low + 0.5];
}

function plotView(plot: CurvePlot, layout: CurveLayout, index: number): Panel {
  const x = xPositions(layout);
  const y = yPositions(plot, layout, index);
  const look = { x: 0, y: -12, align: "left", fontSize: fontSizes.heading } as const;
  return {
    width: layout.width_px,
    height: layout.height_px,
    data: { values: plot.series.flatMap((series) => rows(series, layout)) },
    layer: [
      ...notesBehind(plot, x, layout),
      ...seriesLayers(plot, { x, y, layout }),
      ...notesBefore(plot, x, layout),
      fixedLayer({ type: "text", text: plot.label, ...look }),
    ],
  };
}

function xPositions({ figure, width_px, xDomain: domain }: CurveLayout): Positions {
  const { label: title, scale } = figure.x;
  const tickCount = Math.max(2, Math.round(width_px / 64));
  if (scale === "time") return timePositions(domain, { title, tickCount });
  const arrays = figure.plots.flatMap(({ series }) => series.map(({ x }) => x));
  return valuePositions(arrays, {
    ...{ scale, title, tickCount, length_px: 400 },
    domain: scale === "log" ? figure.x.domain : domain,
  });
}

/** Seconds since 1970 as UTC: times within two days, dates beyond. */
function timePositions(
  domain: readonly [number, number],
  { title, tickCount }: { readonly title: string; readonly tickCount: number },
): Positions {
  const rest: Position = {
    type: "temporal",
    scale: { type: "utc", domain: domain.map((time_s) => time_s * 1000), nice: false },
    axis: { title, format: domain[1] - domain[0] < 2 * 86_400 ? "%H:%M" : "%Y-%m-%d", tickCount },
  };
  return (field) => ({ field, ...rest });
}

function yPositions(plot: CurvePlot, layout: CurveLayout, index: number): Positions {
  const { figure, columns, height_px } = layout;
  const { scale, domain, withZero, downward, label } = figure.y;
  const shown = figure.sameY === false ? [plot] : figure.plots;
  const arrays = shown.flatMap(({ series }) =>
    series.flatMap(({ y, lo, hi }) => [y, lo ?? [], hi ?? []]),
  );
  return valuePositions(arrays, {
    ...{ domain, withZero, reverse: downward, length_px: height_px },
    scale: scale === "log" ? "log" : "linear",
    title: index % columns === 0 ? label : null,
  });
}

function rows(series: CurveSeries, layout: CurveLayout): readonly Row[] {
  const { figure, width_px, xDomain: domain } = layout;
  const time = figure.x.scale === "time";
  const log = figure.y.scale === "log";
  const y = log ? Array.from(series.y, (value) => (value > 0 ? value : Number.NaN)) : series.y;
  const long = series.form === "line" || (series.form === "points" && series.x.length > 1500);
  const k = seriesColour(series.name, layout);
  const bucket = long ? ((domain[1] - domain[0]) / width_px) * 1.5 : 0;
  return thinned({ ...series, y }, bucket).map((point) => ({
    x: time ? Math.round(point.x * 1000) : significant(point.x, 5),
    v: significant(point.y),
    s: series.name,
    k,
    r: point.run,
    f: series.form,
    ...(Number.isFinite(point.lo) &&
      Number.isFinite(point.hi) && { lo: significant(point.lo), hi: significant(point.hi) }),
  }));
}
