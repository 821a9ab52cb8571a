import type { VegaLiteSpec } from "../../step/figure.js";
import { valueScale } from "../axes.js";
import { extent, significant } from "../numbers.js";
import { figureWidth_px, fontSizes, theme } from "../theme.js";
import { thinned } from "../thinning.js";
import { titleBlock } from "../title.js";
import { seriesColour, seriesLayers } from "./curve-layers.js";
import { curveNotes } from "./curve-notes.js";
import type { CurveAxis, CurveFigure, CurveLayout, CurvePlot, CurveSeries } from "./curve-types.js";

type Json = Readonly<Record<string, unknown>>;

const gap_px = 64;

export function composeCurve(figure: CurveFigure): VegaLiteSpec {
  const layout = layoutOf(figure);
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(figure, figure.width_px ?? figureWidth_px),
    config: theme,
    columns: layout.columns,
    bounds: "flush",
    spacing: { row: layout.figure.plots.length > layout.columns ? 78 : 34, column: gap_px },
    concat: figure.plots.map((plot, i) => plotView(plot, layout, i)),
    resolve: {
      legend: { stroke: "shared", fill: "shared" },
      scale: { stroke: "shared", fill: "shared" },
    },
  };
}

function layoutOf(figure: CurveFigure): CurveLayout {
  const count = Math.max(1, figure.plots.length);
  const columns = Math.min(figure.columns ?? 3, count);
  const width_px = Math.floor(
    ((figure.width_px ?? figureWidth_px) - gap_px * (columns - 1)) / columns,
  );
  const names = [...new Set(figure.plots.flatMap(({ series }) => series.map(({ name }) => name)))];
  return {
    figure,
    columns,
    width_px,
    height_px: columns === 1 ? 260 : 190,
    names,
    xDomain: xDomain(figure),
  };
}

function xDomain(figure: CurveFigure): readonly [number, number] {
  if (figure.x.domain !== undefined) return figure.x.domain;
  const range = extent(figure.plots.flatMap(({ series }) => series.map(({ x }) => x))) ?? [0, 1];
  const withZero =
    figure.x.withZero === true ? ([Math.min(0, range[0]), Math.max(0, range[1])] as const) : range;
  if (withZero[1] > withZero[0]) return withZero;
  return [withZero[0] - 0.5, withZero[0] + 0.5];
}

function plotView(plot: CurvePlot, layout: CurveLayout, index: number): Json {
  const x = xEncoding(layout);
  const y = yEncoding(plot, layout, index);
  const data = plot.series.flatMap((series) => rows(series, layout));
  return {
    width: layout.width_px,
    height: layout.height_px,
    data: { values: data },
    layer: [
      ...curveNotes(plot, x, layout).behind,
      ...seriesLayers(plot, { x, y, layout }),
      ...curveNotes(plot, x, layout).before,
      {
        data: { values: [{}] },
        encoding: {},
        mark: {
          type: "text",
          text: plot.label,
          x: 0,
          y: -12,
          align: "left",
          fontSize: fontSizes.heading,
        },
      },
    ],
  };
}

function xEncoding({ figure, width_px }: CurveLayout): (field: string) => Json {
  const { axis, ...scaled } = xScale(figure);
  const rest = {
    title: figure.x.label,
    ...(axis as Json),
    tickCount: Math.max(2, Math.round(width_px / 64)),
  };
  return (field) => ({ field, ...scaled, axis: rest });
}

function xScale(figure: CurveFigure): Json {
  const domain = figure.x.domain ?? xDomain(figure);
  if (figure.x.scale === "time") {
    return {
      type: "temporal",
      scale: { type: "utc", domain: domain.map((time_s) => time_s * 1000), nice: false },
      axis: { format: domain[1] - domain[0] < 2 * 86_400 ? "%H:%M" : "%Y-%m-%d" },
    };
  }
  const wish = {
    scale: figure.x.scale,
    domain: figure.x.scale === "log" ? figure.x.domain : domain,
  };
  const arrays = figure.plots.flatMap(({ series }) => series.map((one) => one.x));
  const { domain: wished, ...scale } = wish;
  return {
    type: "quantitative",
    ...valueScale(arrays, { ...scale, length_px: 400, ...(wished && { domain: wished }) }),
  };
}

function yEncoding(
  plot: CurvePlot,
  { figure, columns, height_px }: CurveLayout,
  index: number,
): (field: string) => Json {
  const shown = figure.sameY === false ? [plot] : figure.plots;
  const arrays = shown.flatMap(({ series }) =>
    series.flatMap(({ y, lo, hi }) => [y, lo ?? [], hi ?? []]),
  );
  const { axis, ...scaled } = valueScale(arrays, { ...yWish(figure.y), length_px: height_px });
  const title = index % columns === 0 ? figure.y.label : null;
  const rest = { title, ...(axis as Json) };
  return (field) => ({ field, type: "quantitative", ...scaled, axis: rest });
}

function yWish(axis: CurveAxis) {
  return {
    scale: axis.scale === "log" ? ("log" as const) : ("linear" as const),
    ...(axis.domain && { domain: axis.domain }),
    withZero: axis.withZero === true,
    reverse: axis.downward === true,
  };
}

function rows(series: CurveSeries, layout: CurveLayout): readonly Json[] {
  const { figure, width_px, xDomain: domain } = layout;
  const time = figure.x.scale === "time";
  const log = figure.y.scale === "log";
  const y = log ? Array.from(series.y, (value) => (value > 0 ? value : Number.NaN)) : series.y;
  const long = series.form === "line" || (series.form === "points" && series.x.length > 1500);
  const bucket = long ? ((domain[1] - domain[0]) / width_px) * 1.5 : 0;
  return thinned({ ...series, y }, bucket).map((point) => ({
    x: time ? Math.round(point.x * 1000) : significant(point.x, 5),
    v: significant(point.y),
    s: series.name,
    k: seriesColour(series.name, layout),
    r: point.run,
    f: series.form,
    ...(Number.isFinite(point.lo) &&
      Number.isFinite(point.hi) && { lo: significant(point.lo), hi: significant(point.hi) }),
  }));
}
