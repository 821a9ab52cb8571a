import { valuePositions } from "../axes.js";
import { rounded, significant } from "../numbers.js";
import type { Encoding, Layer, Positions, Tooltip } from "../spec.js";
import { colouring, colourOf, type DepthFrame } from "./frame.js";
import type { DepthSteps, ValuesPanel } from "./types.js";

interface PanelFrame {
  readonly frame: DepthFrame;
  readonly width: number;
}

interface Drawing {
  readonly panel: ValuesPanel;
  readonly frame: DepthFrame;
  readonly x: Positions;
}

/** Bands, steps, curves and points of a panel, those that it has. */
export function valuesLayers(panel: ValuesPanel, { frame, width }: PanelFrame): readonly Layer[] {
  const drawing = { panel, frame, x: valueAxis(panel, width) };
  const { steps = [], curves = [], points = [] } = panel;
  return [
    ...bandLayers(steps, drawing),
    ...(steps.length > 0 ? [stepLayer(steps, drawing)] : []),
    ...(curves.length > 0 ? [curveLayer(curves, drawing)] : []),
    ...(points.length > 0 ? [pointLayer(points, drawing)] : []),
  ];
}

function valueAxis(panel: ValuesPanel, width: number): Positions {
  const { steps = [], curves = [], points = [], scale, domain, axis: title } = panel;
  const arrays = [
    ...steps.flatMap(({ value, lo, hi }) => [value, lo ?? [], hi ?? []]),
    ...curves.map(({ value }) => value),
    points.map(({ value }) => value),
  ];
  return valuePositions(arrays, { scale, domain, title, length_px: 0.6 * width });
}

/** The layers down to the figure's base. */
function layersOf({ top_m, value, lo, hi }: DepthSteps, base_m: number) {
  const layers = Array.from(top_m, (top, j) => ({
    ...{ j, top, base: Math.min(top_m[j + 1] ?? base_m, base_m) },
    value: significant(value[j] ?? Number.NaN),
    lo: significant(lo?.[j] ?? Number.NaN),
    hi: significant(hi?.[j] ?? Number.NaN),
  }));
  return layers.filter(({ top, base }) => top < base);
}

function bandLayers(steps: readonly DepthSteps[], { frame, x }: Drawing): readonly Layer[] {
  const values = steps.flatMap((one) =>
    layersOf(one, frame.base_m)
      .filter(({ lo, hi }) => lo !== null && hi !== null)
      .map(({ top, base, lo, hi }) => ({
        ...{ lo, hi, u: rounded(top, 2), l: rounded(base, 2) },
        k: colourOf(one.name, "steps", frame),
      })),
  );
  if (values.length === 0) return [];
  return [
    {
      data: { values },
      mark: { type: "rect", opacity: 0.18, clip: true },
      encoding: {
        ...{ x: x("lo"), x2: { field: "hi" }, y: frame.y("u"), y2: { field: "l" } },
        fill: { field: "k", type: "nominal", scale: null },
      },
    },
  ];
}

function stepLayer(steps: readonly DepthSteps[], { panel, frame, x }: Drawing): Layer {
  const values = steps.flatMap((one) =>
    layersOf(one, frame.base_m).flatMap(({ j, top, base, value: v }) => [
      { s: one.name, v, d: rounded(top, 3), o: 2 * j },
      { s: one.name, v, d: rounded(base, 3), o: 2 * j + 1 },
    ]),
  );
  return {
    data: { values },
    mark: { type: "line", clip: true, strokeWidth: 2, strokeJoin: "miter", strokeCap: "butt" },
    encoding: {
      ...{ x: x("v"), y: frame.y("d"), order: inOrder },
      stroke: colouring("steps", panel.legend, frame),
      tooltip: tooltip(panel),
    },
  };
}

function curveLayer(
  curves: NonNullable<ValuesPanel["curves"]>,
  { panel, frame, x }: Drawing,
): Layer {
  const values = curves.flatMap(({ name, detail, depth_m, value }) =>
    Array.from(depth_m, (d, o) => ({ d, o }))
      .filter(({ d }) => d <= frame.base_m)
      .map(({ d, o }) => {
        const v = significant(value[o] ?? Number.NaN);
        return { s: name, e: detail, v, d: rounded(d, 3), o };
      }),
  );
  return {
    data: { values },
    mark: { type: "line", clip: true, strokeWidth: 1.3 },
    encoding: {
      ...{ x: x("v"), y: frame.y("d"), order: inOrder, detail: { field: "e" } },
      color: colouring("curves", panel.legend, frame),
      tooltip: [{ field: "e", title: "Curve" }, ...tooltip(panel)],
    },
  };
}

function pointLayer(
  points: NonNullable<ValuesPanel["points"]>,
  { panel, frame, x }: Drawing,
): Layer {
  const values = points
    .filter(({ depth_m, value }) => depth_m <= frame.base_m && Number.isFinite(value))
    .map(({ name, depth_m, value }) => ({
      ...{ s: name, v: significant(value), d: rounded(depth_m, 3) },
    }));
  return {
    data: { values },
    mark: { type: "point", filled: true, size: 46, opacity: 1, shape: "diamond", clip: true },
    encoding: {
      ...{ x: x("v"), y: frame.y("d") },
      fill: colouring("points", panel.legend, frame),
      tooltip: tooltip(panel),
    },
  };
}

const inOrder: Required<Encoding>["order"] = { field: "o", type: "quantitative" };

function tooltip({ axis }: ValuesPanel): Extract<Tooltip, unknown[]> {
  return [
    { field: "s", title: "What" },
    { field: "d", title: "Depth (m)" },
    { field: "v", title: axis },
  ];
}
