import { valuePositions } from "../axes.js";
import { legendShown } from "../legend.js";
import { rounded, significant } from "../numbers.js";
import type { Colour, Encoding, Layer, Positions, Row, Tooltip } from "../spec.js";
import { coloursOf, greys } from "../theme.js";
import { thinned } from "../thinning.js";
import type { DrawnPanel, PanelFrame } from "./frame.js";
import type { LinesPanel, StripSeries } from "./types.js";

/** Points that all curves of a strip together may take, so that a figure stays a small file. */
const pointBudget = 3600;

export function linesLayers(
  panel: LinesPanel,
  { frame, x, seriesCount, height_px }: PanelFrame,
): DrawnPanel {
  const buckets = Math.min(frame.width_px / 1.5, pointBudget / (2 * seriesCount));
  const bucket_m = (frame.domain_m[1] - frame.domain_m[0]) / buckets;
  const arrays = panel.series.flatMap(({ y, lo, hi }) => [y, lo ?? [], hi ?? []]);
  const y = valuePositions(arrays, {
    ...{ scale: panel.scale, domain: panel.domain, title: null },
    length_px: height_px,
    withZero: panel.zeroRule,
  });
  const line: Encoding = { x: x("m"), color: colour(panel), detail: { field: "r" } };
  const layers: Layer[] = [
    ...bandLayer(panel, line, y),
    ...zeroLayer(panel, y),
    {
      mark: { type: "line", clip: true },
      encoding: { ...line, y: y("v"), tooltip: tooltip(panel) },
    },
  ];
  return { data: panel.series.flatMap((series) => rows(series, panel, bucket_m)), layers };
}

function rows(series: StripSeries, panel: LinesPanel, bucket_m: number): readonly Row[] {
  const points = thinned({ ...series, y: drawable(series.y, panel) }, bucket_m);
  return points.map(({ x, y, lo, hi, run }) => {
    const row = { m: rounded(x), v: significant(y), s: series.name, r: run };
    return Number.isFinite(lo) && Number.isFinite(hi)
      ? { ...row, lo: significant(lo), hi: significant(hi) }
      : row;
  });
}

function drawable(values: ArrayLike<number>, panel: LinesPanel): ArrayLike<number> {
  if (panel.scale === "linear") return values;
  return Array.from(values, (value) => (value > 0 ? value : Number.NaN));
}

function colour({ series, legend: title }: LinesPanel): Colour {
  const names = series.map(({ name }) => name);
  const range = coloursOf(names).map((next, i) => series[i]?.colour ?? next);
  const legend = { title: title ?? null, symbolType: "stroke", symbolOpacity: 1 };
  const shown = legendShown(title, names.length);
  return {
    field: "s",
    type: "nominal",
    scale: { domain: names, range },
    legend: shown ? legend : null,
  };
}

function bandLayer(panel: LinesPanel, line: Encoding, y: Positions): readonly Layer[] {
  if (!panel.series.some(({ lo, hi }) => lo !== undefined && hi !== undefined)) return [];
  // Older Vega-Lite 5 (5.6 in notebook front ends) stacks ranged areas, along either axis, unless
  // it is told not to.
  const encoding = {
    ...line,
    x: { ...line.x, stack: null },
    y: { field: "lo", stack: null, ...y("lo") },
    y2: { field: "hi" },
  };
  return [
    {
      transform: [{ filter: "isValid(datum.lo)" }],
      mark: { type: "area", opacity: 0.18, clip: true },
      encoding,
    },
  ];
}

function zeroLayer(panel: LinesPanel, y: Positions): readonly Layer[] {
  if (panel.zeroRule !== true) return [];
  const level = panel.scale === "log" ? 1 : 0;
  return [
    {
      data: { values: [{ z: level }] },
      mark: { type: "rule", color: greys.quiet, strokeWidth: 1 },
      encoding: { y: y("z") },
    },
  ];
}

function tooltip(panel: LinesPanel): Tooltip {
  return [
    { field: "s", title: panel.legend ?? "Curve" },
    { field: "m", title: "Chainage (m)" },
    { field: "v", title: panel.label },
  ];
}
