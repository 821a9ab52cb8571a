import type { VegaLiteSpec } from "../../step/figure.js";
import { haloed } from "../halo.js";
import { rounded } from "../numbers.js";
import { emptyView, figureSpec, type Layer, type Panel } from "../spec.js";
import { fontSizes, greys } from "../theme.js";
import { columnLayers } from "./column.js";
import { type DepthFrame, height_px, namesOf } from "./frame.js";
import type { DepthFigure, DepthPanel } from "./types.js";
import { valuesLayers } from "./values.js";

export type {
  ColumnPanel,
  DepthCurve,
  DepthFigure,
  DepthPanel,
  DepthPoint,
  DepthSteps,
  ValuesPanel,
} from "./types.js";

const gap_px = 40;

/**
 * Panels side by side over one depth axis that grows downward, as a Vega-Lite 5 specification:
 * steps by layer with bands, curves, points, and columns of named layers.
 *
 * @param figure what to draw; depths in m. What lies deeper than `base_m` is cut off. Values are
 *   rounded to four significant digits; NaN is left out and breaks a line.
 * @returns plain JSON
 * @example
 * depthSpec({ title: "Nothing below 2 m", base_m: 4, panels: [] }).$schema;
 * // "https://vega.github.io/schema/vega-lite/v5.json"
 */
export function depthSpec(figure: DepthFigure): VegaLiteSpec {
  const { panels } = figure;
  const width_px = panels.reduce((sum, panel) => sum + widthOf(panel) + gap_px, 0);
  const explained = panels.findLastIndex(({ kind }) => kind === "values");
  const views = panels.map((panel, i) =>
    view(figure, panel, { first: i === 0, explains: i === explained }),
  );
  return figureSpec(figure, Math.max(560, width_px), {
    bounds: "flush",
    spacing: gap_px,
    resolve: { scale: { color: "shared", stroke: "shared", fill: "shared" } },
    hconcat: views.length > 0 ? views : [emptyView(300)],
  });
}

function widthOf(panel: DepthPanel): number {
  return panel.width_px ?? (panel.kind === "values" ? 200 : 104);
}

interface PanelPlace {
  readonly first: boolean;
  /** The panel that writes what the grey means. */
  readonly explains: boolean;
}

function view(figure: DepthFigure, panel: DepthPanel, { first, explains }: PanelPlace): Panel {
  const frame = frameOf(figure, first);
  const width = widthOf(panel);
  const layers =
    panel.kind === "values"
      ? [...belowBand(figure, frame), ...valuesLayers(panel, { frame, width })]
      : columnLayers(panel, { frame, width });
  return {
    width,
    height: height_px,
    data: { values: [{}] },
    layer: [
      ...layers,
      ...belowRule(figure, frame, explains),
      ...haloed({ text: panel.label, x: 0, y: -12, align: "left", fontSize: fontSizes.heading }),
    ],
  };
}

/** Only the leftmost panel writes the depths. */
function frameOf({ base_m, panels }: DepthFigure, labelled: boolean): DepthFrame {
  const scale = { domain: [0, base_m], reverse: true, nice: false, zero: false };
  const axis = labelled
    ? { title: "Depth below the crest (m)", tickCount: 8, grid: false }
    : { title: null, labels: false, ticks: false, grid: false };
  return {
    base_m,
    y: (field) => ({ field, type: "quantitative", scale, axis }),
    names: {
      steps: namesOf(panels, "steps"),
      curves: namesOf(panels, "curves"),
      points: namesOf(panels, "points"),
    },
  };
}

function belowBand({ below, base_m }: DepthFigure, { y }: DepthFrame): readonly Layer[] {
  if (below === undefined || !(below.from_m < base_m)) return [];
  return [
    {
      data: { values: [{ u: rounded(below.from_m, 2), l: base_m }] },
      mark: { type: "rect", color: greys.band, opacity: 0.6 },
      encoding: { y: y("u"), y2: { field: "l" } },
    },
  ];
}

function belowRule(
  { below, base_m }: DepthFigure,
  { y }: DepthFrame,
  explains: boolean,
): readonly Layer[] {
  if (below === undefined || !(below.from_m < base_m)) return [];
  const data = { values: [{ u: rounded(below.from_m, 2), t: below.text }] };
  const rule: Layer = {
    data,
    mark: { type: "rule", color: greys.text, strokeDash: [2, 3] },
    encoding: { y: y("u") },
  };
  if (!explains) return [rule];
  const text = haloed(
    { x: 0, dx: 4, dy: 3, align: "left", baseline: "top", color: greys.quiet, lineBreak: "\n" },
    { data, encoding: { y: y("u"), text: { field: "t" } } },
  );
  return [rule, ...text];
}
