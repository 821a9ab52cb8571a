import { valueScale } from "../axes.js";
import { legendShown } from "../legend.js";
import { rounded, significant } from "../numbers.js";
import { classColours, greys } from "../theme.js";
import { thinned } from "../thinning.js";
import type { DrawnPanel, PanelFrame } from "./strip-frame.js";
import type { LinesPanel, StripSeries } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

/** Points that all curves of a strip together may take, so that a figure stays a small file. */
const pointBudget = 3600;

export function linesLayers(
  panel: LinesPanel,
  { frame, x, seriesCount, height_px }: PanelFrame,
): DrawnPanel {
  const buckets = Math.min(frame.width_px / 1.5, pointBudget / (2 * seriesCount));
  const bucket_m = (frame.domain_m[1] - frame.domain_m[0]) / buckets;
  const values = panel.series.flatMap((series) => rows(series, panel, bucket_m));
  const { axis, ...scaled } = valueScale(arraysOf(panel), {
    scale: panel.scale,
    length_px: height_px,
    ...(panel.domain && { domain: panel.domain }),
    withZero: panel.zeroRule === true,
  });
  const y = {
    type: "quantitative",
    ...scaled,
    axis: { title: null, ...(axis as Json) },
  };
  const line = { x: x("m"), color: colour(panel), detail: { field: "r" } };
  const layers = [
    // Older Vega-Lite 5 (5.6 in notebook front ends) stacks ranged areas, along either axis, unless told not to.
    ...bandLayer(panel, {
      ...line,
      x: { ...(line.x as Json), stack: null },
      y: { field: "lo", stack: null, ...y },
      y2: { field: "hi" },
    }),
    ...zeroLayer(panel, y),
    {
      mark: { type: "line", clip: true },
      encoding: { ...line, y: { field: "v", ...y }, tooltip: tooltip(panel) },
    },
  ];
  return { data: values, layers };
}

function rows(series: StripSeries, panel: LinesPanel, bucket_m: number): readonly Json[] {
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

function arraysOf(panel: LinesPanel): readonly ArrayLike<number>[] {
  return panel.series.flatMap(({ y, lo, hi }) => [y, lo ?? [], hi ?? []]);
}

function colour(panel: LinesPanel): Json {
  const names = panel.series.map(({ name }) => name);
  const range = panel.series.map(
    (series, i) => series.colour ?? classColours[i % classColours.length]!,
  );
  const legend = {
    title: panel.legend ?? null,
    symbolType: "stroke",
    symbolOpacity: 1,
  };
  const shown = legendShown(panel.legend, names.length);
  return {
    field: "s",
    type: "nominal",
    scale: { domain: names, range },
    legend: shown ? legend : null,
  };
}

function bandLayer(panel: LinesPanel, encoding: Json): readonly Json[] {
  if (!panel.series.some(({ lo, hi }) => lo !== undefined && hi !== undefined)) return [];
  return [
    {
      transform: [{ filter: "isValid(datum.lo)" }],
      mark: { type: "area", opacity: 0.18, clip: true },
      encoding,
    },
  ];
}

function zeroLayer(panel: LinesPanel, y: Json): readonly Json[] {
  if (panel.zeroRule !== true) return [];
  const level = panel.scale === "log" ? 1 : 0;
  return [
    {
      data: { values: [{ z: level }] },
      mark: { type: "rule", color: greys.quiet, strokeWidth: 1 },
      encoding: { y: { field: "z", ...y } },
    },
  ];
}

function tooltip(panel: LinesPanel): readonly Json[] {
  return [
    { field: "s", title: panel.legend ?? "Curve" },
    { field: "m", title: "Chainage (m)" },
    { field: "v", title: panel.label },
  ];
}
