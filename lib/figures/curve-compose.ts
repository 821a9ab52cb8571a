import type { VegaLiteSpec } from "../result/figure.js";
import { valueScale } from "./axes.js";
import type { CurveAxis, CurveFigure, CurvePlot, CurveSeries } from "./curve.js";
import { placeFlags } from "./flags.js";
import { extent, rounded, significant } from "./numbers.js";
import { classColours, figureWidth_px, fontSizes, greys, theme } from "./theme.js";
import { thinned } from "./thinning.js";
import { titleBlock } from "./title.js";

type Json = Readonly<Record<string, unknown>>;

interface Layout {
  readonly figure: CurveFigure;
  readonly columns: number;
  readonly width_px: number;
  readonly height_px: number;
  readonly names: readonly string[];
  readonly xDomain: readonly [number, number];
}

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
    resolve: { legend: { color: "shared" }, scale: { color: "shared" } },
  };
}

function layoutOf(figure: CurveFigure): Layout {
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

function plotView(plot: CurvePlot, layout: Layout, index: number): Json {
  const x = xEncoding(layout);
  const y = yEncoding(plot, layout, index);
  const data = plot.series.flatMap((series) => rows(series, layout));
  return {
    width: layout.width_px,
    height: layout.height_px,
    data: { values: data },
    layer: [
      ...bands(plot, x, layout),
      ...seriesLayers(plot, { x, y, layout }),
      ...marks(plot, x, layout),
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

function xEncoding({ figure, width_px }: Layout): (field: string) => Json {
  const { axis, ...scaled } = xScale(figure);
  const rest = { title: figure.x.label, tickCount: Math.round(width_px / 70), ...(axis as Json) };
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
    ...valueScale(arrays, { ...scale, ...(wished && { domain: wished }) }),
  };
}

function yEncoding(
  plot: CurvePlot,
  { figure, columns }: Layout,
  index: number,
): (field: string) => Json {
  const shown = figure.sameY === false ? [plot] : figure.plots;
  const arrays = shown.flatMap(({ series }) =>
    series.flatMap(({ y, lo, hi }) => [y, lo ?? [], hi ?? []]),
  );
  const { axis, ...scaled } = valueScale(arrays, yWish(figure.y));
  const title = index % columns === 0 ? figure.y.label : null;
  const rest = { title, tickCount: 5, ...(axis as Json) };
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

function rows(series: CurveSeries, { figure, width_px, xDomain: domain }: Layout): readonly Json[] {
  const time = figure.x.scale === "time";
  const log = figure.y.scale === "log";
  const y = log ? Array.from(series.y, (value) => (value > 0 ? value : Number.NaN)) : series.y;
  const long = series.form === "line" || (series.form === "points" && series.x.length > 1500);
  const bucket = long ? ((domain[1] - domain[0]) / width_px) * 1.5 : 0;
  return thinned({ ...series, y }, bucket).map((point) => ({
    x: time ? Math.round(point.x * 1000) : significant(point.x, 5),
    v: significant(point.y),
    s: series.name,
    r: point.run,
    f: series.form,
    ...(Number.isFinite(point.lo) &&
      Number.isFinite(point.hi) && { lo: significant(point.lo), hi: significant(point.hi) }),
  }));
}

interface Axes {
  readonly x: (field: string) => Json;
  readonly y: (field: string) => Json;
  readonly layout: Layout;
}

function seriesLayers(plot: CurvePlot, { x, y, layout }: Axes): readonly Json[] {
  const color = colour(layout);
  const used = new Set(plot.series.map(({ form }) => form));
  const banded = plot.series.some(({ lo, form }) => lo !== undefined && form !== "points");
  const barred = plot.series.some(({ lo, form }) => lo !== undefined && form === "points");
  const range = { x: x("x"), y: y("lo"), y2: { field: "hi" }, color };
  const value = { x: x("x"), y: y("v"), color, tooltip: tooltip(layout.figure) };
  const run = { detail: { field: "r" }, order: { field: "x", type: "quantitative" } };
  const layer = (filter: string, mark: Json, encoding: Json): Json => ({
    transform: [{ filter }],
    mark: { clip: true, ...mark },
    encoding,
  });
  return [
    ...(banded
      ? [
          layer(
            "datum.f !== 'points' && isValid(datum.lo)",
            { type: "area", opacity: 0.16 },
            { ...range, ...run },
          ),
        ]
      : []),
    ...(used.has("line")
      ? [layer("datum.f === 'line'", { type: "line" }, { ...value, ...run })]
      : []),
    ...(used.has("steps")
      ? [
          layer(
            "datum.f === 'steps'",
            { type: "line", interpolate: "step-after" },
            { ...value, ...run },
          ),
        ]
      : []),
    ...(barred
      ? [layer("datum.f === 'points' && isValid(datum.lo)", { type: "rule" }, range)]
      : []),
    ...(used.has("points")
      ? [
          layer(
            "datum.f === 'points'",
            { type: "point", filled: true, size: 30, opacity: 1, clip: false },
            value,
          ),
        ]
      : []),
  ];
}

function colour({ figure, names }: Layout): Json {
  const range = names.map(
    (name, i) => figure.colours?.[name] ?? classColours[i % classColours.length]!,
  );
  const shown = names.length > 1 || figure.legend !== undefined;
  const legend = shown
    ? { title: figure.legend ?? null, symbolOpacity: 1, ...symbols(figure) }
    : null;
  return { field: "s", type: "nominal", scale: { domain: names, range }, legend };
}

/** In the legend too, a line is a stroke and a point is a dot. */
function symbols(figure: CurveFigure): Json {
  const series = figure.plots.flatMap((plot) => plot.series);
  const dots = [...new Set(series.filter(({ form }) => form === "points").map(({ name }) => name))];
  if (dots.length === 0) return { symbolType: "stroke" };
  const test = `indexof(${JSON.stringify(dots)}, datum.value) >= 0`;
  const shape = [{ test, value: "circle" }, { value: "stroke" }];
  return { encoding: { symbols: { shape, strokeWidth: { value: 2 } } } };
}

function bands(plot: CurvePlot, x: (field: string) => Json, layout: Layout): readonly Json[] {
  if (plot.setAside === undefined || plot.setAside.length === 0) return [];
  const at = (value: number) =>
    layout.figure.x.scale === "time" ? value * 1000 : significant(value, 6);
  const values = plot.setAside.map(({ from, to, text }) => ({ a: at(from), b: at(to), t: text }));
  return [
    {
      data: { values },
      mark: { type: "rect", color: greys.band, clip: true },
      encoding: { x: x("a"), x2: { field: "b" }, tooltip: [{ field: "t", title: "Set aside" }] },
    },
    ...flags(
      plot.setAside.map(({ from, to, text }) => ({ at: (from + to) / 2, text })),
      x,
      layout,
    ),
  ];
}

function marks(plot: CurvePlot, x: (field: string) => Json, layout: Layout): readonly Json[] {
  if (plot.marks === undefined || plot.marks.length === 0) return [];
  const scale = layout.figure.x.scale === "time" ? 1000 : 1;
  const values = plot.marks.map(({ at, text }) => ({ at: at * scale, t: text }));
  return [
    {
      data: { values },
      mark: { type: "rule", color: greys.text, strokeDash: [4, 3] },
      encoding: { x: x("at"), tooltip: [{ field: "t", title: "Mark" }] },
    },
    ...flags(plot.marks, x, layout),
  ];
}

/** Texts inside the plot, from its top downward, each beside its own rule. */
function flags(
  items: readonly { readonly at: number; readonly text: string }[],
  x: (field: string) => Json,
  layout: Layout,
): readonly Json[] {
  const [from, to] = layout.xDomain;
  const scale = layout.figure.x.scale === "time" ? 1000 : 1;
  const unitsPer_px = (to - from) / layout.width_px;
  const placed = placeFlags(items, {
    unitsPer_px,
    size_px: fontSizes.note,
    letters: 24,
    gap_px: 7,
  });
  return [...new Set(placed.map(({ row }) => row))].map((row) => ({
    data: {
      values: placed
        .filter((flag) => flag.row === row)
        .map((flag) => ({ at: (rounded(flag.at, 4) ?? 0) * scale, t: flag.text })),
    },
    mark: {
      type: "text",
      align: "left",
      baseline: "top",
      dx: 3,
      y: 3 + row * 13,
      color: greys.quiet,
    },
    encoding: { x: x("at"), text: { field: "t" } },
  }));
}

function tooltip(figure: CurveFigure): readonly Json[] {
  const time = figure.x.scale === "time";
  return [
    { field: "s", title: figure.legend ?? "Series" },
    {
      field: "x",
      title: figure.x.label,
      ...(time && { type: "temporal", format: "%Y-%m-%d %H:%M" }),
    },
    { field: "v", title: figure.y.label },
  ];
}
