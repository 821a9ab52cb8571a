import { itemAt } from "../../numerics/arrays.js";
import { legendShown } from "../legend.js";
import type { Colour, Encoding, Layer, Positions, Tooltip } from "../spec.js";
import { coloursOf } from "../theme.js";
import type { CurveFigure, CurveLayout, CurvePlot } from "./types.js";

interface CurveAxes {
  readonly x: Positions;
  readonly y: Positions;
  readonly layout: CurveLayout;
}

/** Bands, lines, steps, error bars and points of one plot, those that it has. */
export function seriesLayers(plot: CurvePlot, axes: CurveAxes): readonly Layer[] {
  const forms = new Set(plot.series.map(({ form }) => form));
  const banded = plot.series.some(({ lo, form }) => lo !== undefined && form !== "points");
  const barred = plot.series.some(({ lo, form }) => lo !== undefined && form === "points");
  return [
    ...(banded ? [bandLayer(axes)] : []),
    ...(forms.has("line") ? [lineLayer("line", axes)] : []),
    ...(forms.has("steps") ? [lineLayer("steps", axes)] : []),
    ...(barred ? [barLayer(axes)] : []),
    ...(forms.has("points") ? [pointLayer(axes)] : []),
  ];
}

export function seriesColour(name: string, { figure, names }: CurveLayout): string {
  return itemAt(coloursOf(names, figure.colours), names.indexOf(name));
}

const run: Encoding = {
  detail: [{ field: "s" }, { field: "r" }],
  order: { field: "x", type: "quantitative" },
};

function bandLayer({ x, y }: CurveAxes): Layer {
  return {
    transform: [{ filter: "datum.f !== 'points' && isValid(datum.lo)" }],
    mark: { type: "area", fillOpacity: 0.16, clip: true },
    // Older Vega-Lite 5 (5.6 in notebook front ends) stacks ranged areas, along either axis, unless
    // it is told not to.
    encoding: {
      x: { ...x("x"), stack: null },
      y: { ...y("lo"), stack: null },
      y2: { field: "hi" },
      fill: literal,
      // An area is sorted along x by itself; a field of order would part it into single points.
      detail: [{ field: "s" }, { field: "r" }],
    },
  };
}

function lineLayer(form: "line" | "steps", { x, y, layout }: CurveAxes): Layer {
  const stroke = seriesScale(layout, ["line", "steps"]);
  return {
    transform: [{ filter: `datum.f === '${form}'` }],
    mark: { type: "line", clip: true, ...(form === "steps" && { interpolate: "step-after" }) },
    encoding: { x: x("x"), y: y("v"), stroke, tooltip: tooltip(layout.figure), ...run },
  };
}

function barLayer({ x, y }: CurveAxes): Layer {
  return {
    transform: [{ filter: "datum.f === 'points' && isValid(datum.lo)" }],
    mark: { type: "rule", clip: true },
    encoding: { x: x("x"), y: y("lo"), y2: { field: "hi" }, color: literal },
  };
}

function pointLayer({ x, y, layout }: CurveAxes): Layer {
  const fill = seriesScale(layout, ["points"]);
  return {
    transform: [{ filter: "datum.f === 'points'" }],
    mark: { type: "point", filled: true, size: 30, opacity: 1, strokeWidth: 0 },
    encoding: { x: x("x"), y: y("v"), fill, tooltip: tooltip(layout.figure) },
  };
}

const literal: Colour = { field: "k", type: "nominal", scale: null };

/**
 * Lines and points have a scale each, so that the legend shows a stroke for one, a dot for other.
 */
function seriesScale(layout: CurveLayout, forms: readonly string[]): Colour {
  const { figure, names } = layout;
  const own = new Set(
    figure.plots.flatMap(({ series }) =>
      series.filter(({ form }) => forms.includes(form)).map(({ name }) => name),
    ),
  );
  const domain = names.filter((name) => own.has(name));
  const range = domain.map((name) => seriesColour(name, layout));
  const shown = legendShown(figure.legend, names.length);
  const dots = forms.includes("points");
  const title = figure.legend ?? null;
  const legend = { title, symbolType: dots ? "circle" : "stroke", symbolOpacity: 1 };
  return { field: "s", type: "nominal", scale: { domain, range }, legend: shown ? legend : null };
}

function tooltip(figure: CurveFigure): Tooltip {
  const time = figure.x.scale === "time";
  const when = time && ({ type: "temporal", format: "%Y-%m-%d %H:%M" } as const);
  return [
    { field: "s", title: figure.legend ?? "Series" },
    { field: "x", title: figure.x.label, ...when },
    { field: "v", title: figure.y.label },
  ];
}
