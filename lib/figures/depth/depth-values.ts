import { valueScale } from "../axes.js";
import { rounded, significant } from "../numbers.js";
import { colouring, colourOf, type DepthFrame } from "./depth-frame.js";
import type { DepthSteps, ValuesPanel } from "./depth-types.js";

type Json = Readonly<Record<string, unknown>>;

interface PanelPlace {
  readonly frame: DepthFrame;
  readonly width: number;
}

interface Axes {
  readonly x: (field: string) => Json;
  readonly y: (field: string) => Json;
}

/** Bands, steps, curves and points of a panel, those that it has. */
export function valuesLayers(panel: ValuesPanel, { frame, width }: PanelPlace): readonly Json[] {
  const axes = { x: xAxis(panel, width), y: frame.y };
  const { steps = [], curves = [], points = [] } = panel;
  return [
    ...bandLayers(steps, axes, frame),
    ...(steps.length > 0 ? [stepLayer(panel, axes, frame)] : []),
    ...(curves.length > 0 ? [curveLayer(panel, axes, frame)] : []),
    ...(points.length > 0 ? [pointLayer(panel, axes, frame)] : []),
  ];
}

function xAxis(panel: ValuesPanel, width: number): (field: string) => Json {
  const { steps = [], curves = [], points = [] } = panel;
  const arrays = [
    ...steps.flatMap(({ value, lo, hi }) => [value, lo ?? [], hi ?? []]),
    ...curves.map(({ value }) => value),
    points.map(({ value }) => value),
  ];
  const { axis, ...scaled } = valueScale(arrays, {
    scale: panel.scale,
    length_px: 0.6 * width,
    ...(panel.domain && { domain: panel.domain }),
  });
  const rest = { title: panel.axis, ...(axis as Json) };
  return (field) => ({ field, type: "quantitative", ...scaled, axis: rest });
}

/** Tops and bases of the layers down to the figure's base. */
function layersOf({ top_m }: DepthSteps, base_m: number) {
  return Array.from(top_m, (top, j) => ({
    j,
    top,
    base: Math.min(top_m[j + 1] ?? base_m, base_m),
  })).filter(({ top, base }) => top < base);
}

function bandLayers(
  steps: readonly DepthSteps[],
  { x, y }: Axes,
  frame: DepthFrame,
): readonly Json[] {
  const { base_m } = frame;
  const values = steps.flatMap((one) =>
    layersOf(one, base_m).map(({ j, top, base }) => ({
      lo: significant(one.lo?.[j] ?? Number.NaN),
      hi: significant(one.hi?.[j] ?? Number.NaN),
      u: rounded(top, 2),
      l: rounded(base, 2),
      k: colourOf(one.name, "steps", frame),
    })),
  );
  const present = values.filter(({ lo, hi }) => lo !== null && hi !== null);
  if (present.length === 0) return [];
  return [
    {
      data: { values: present },
      mark: { type: "rect", opacity: 0.18, clip: true },
      encoding: {
        x: x("lo"),
        x2: { field: "hi" },
        y: y("u"),
        y2: { field: "l" },
        fill: { field: "k", type: "nominal", scale: null },
      },
    },
  ];
}

function stepLayer({ steps = [], ...panel }: ValuesPanel, { x, y }: Axes, frame: DepthFrame) {
  const { base_m } = frame;
  const values = steps.flatMap((one) =>
    layersOf(one, base_m).flatMap(({ j, top, base }) => {
      const v = significant(one.value[j]!);
      return [
        { s: one.name, v, d: rounded(top, 3), o: 2 * j },
        { s: one.name, v, d: rounded(base, 3), o: 2 * j + 1 },
      ];
    }),
  );
  return {
    data: { values },
    mark: { type: "line", clip: true, strokeWidth: 2, strokeJoin: "miter", strokeCap: "butt" },
    encoding: {
      ...{ x: x("v"), y: y("d"), order: { field: "o", type: "quantitative" } },
      ...colouring("stroke", "steps", { legend: panel.legend, frame }),
      tooltip: tooltip(panel.axis),
    },
  };
}

function curveLayer({ curves = [], ...panel }: ValuesPanel, { x, y }: Axes, frame: DepthFrame) {
  const { base_m } = frame;
  const values = curves.flatMap(({ name, detail, depth_m, value }) =>
    Array.from(depth_m, (d, o) => ({ s: name, e: detail, v: significant(value[o]!), d, o }))
      .filter(({ d }) => d <= base_m)
      .map((row) => ({ ...row, d: rounded(row.d, 3) })),
  );
  return {
    data: { values },
    mark: { type: "line", clip: true, strokeWidth: 1.3 },
    encoding: {
      ...{ x: x("v"), y: y("d"), order: { field: "o", type: "quantitative" } },
      detail: { field: "e" },
      ...colouring("color", "curves", { legend: panel.legend, frame }),
      tooltip: [{ field: "e", title: "Curve" }, ...tooltip(panel.axis)],
    },
  };
}

function pointLayer({ points = [], ...panel }: ValuesPanel, { x, y }: Axes, frame: DepthFrame) {
  const { base_m } = frame;
  const values = points
    .filter(({ depth_m, value }) => depth_m <= base_m && Number.isFinite(value))
    .map(({ name, depth_m, value }) => ({
      s: name,
      v: significant(value),
      d: rounded(depth_m, 3),
    }));
  return {
    data: { values },
    mark: { type: "point", filled: true, size: 46, opacity: 1, shape: "diamond", clip: true },
    encoding: {
      ...{ x: x("v"), y: y("d") },
      ...colouring("fill", "points", { legend: panel.legend, frame }),
      tooltip: tooltip(panel.axis),
    },
  };
}

function tooltip(axis: string): readonly Json[] {
  return [
    { field: "s", title: "What" },
    { field: "d", title: "Depth (m)" },
    { field: "v", title: axis },
  ];
}
