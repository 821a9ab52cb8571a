import type { VegaLiteSpec } from "../../step/figure.js";
import { haloed } from "../halo.js";
import { rounded } from "../numbers.js";
import { fontSizes, greys, theme } from "../theme.js";
import { titleBlock } from "../title.js";
import { columnLayers } from "./depth-column.js";
import { type DepthFrame, namesOf } from "./depth-frame.js";
import type { ColumnPanel, DepthFigure, DepthPanel, ValuesPanel } from "./depth-types.js";
import { valuesLayers } from "./depth-values.js";

type Json = Readonly<Record<string, unknown>>;

const height_px = 320;
const gap_px = 40;

export function composeDepth(figure: DepthFigure): VegaLiteSpec {
  const width_px = figure.panels.reduce((sum, panel) => sum + widthOf(panel) + gap_px, 0);
  const told = figure.panels.findLastIndex(({ kind }) => kind === "values");
  const views = figure.panels.map((panel, i) => view(figure, panel, { i, told }));
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(figure, Math.max(560, width_px)),
    config: theme,
    bounds: "flush",
    spacing: gap_px,
    resolve: { scale: { color: "shared", stroke: "shared", fill: "shared" } },
    hconcat: views.length > 0 ? views : [nothing],
  };
}

const nothing: Json = {
  width: 300,
  height: 40,
  data: { values: [{ t: "No data for this figure" }] },
  mark: { type: "text", x: 0, align: "left" },
  encoding: { text: { field: "t" } },
};

function widthOf(panel: DepthPanel): number {
  return panel.width_px ?? (panel.kind === "values" ? 200 : 104);
}

interface Place {
  readonly i: number;
  /** The panel that writes what the grey means. */
  readonly told: number;
}

function view(figure: DepthFigure, panel: DepthPanel, { i, told }: Place): Json {
  const frame = frameOf(figure, i === 0);
  const width = widthOf(panel);
  return {
    width,
    height: height_px,
    data: { values: [{}] },
    layer: [
      ...(panel.kind === "values" ? belowBand(figure, frame) : []),
      ...(panel.kind === "values"
        ? valuesLayers(panel as ValuesPanel, { frame, width })
        : columnLayers(panel as ColumnPanel, { frame, width })),
      ...belowRule(figure, frame, i === told),
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
    height_px,
    y: (field) => ({ field, type: "quantitative", scale, axis }),
    names: {
      steps: namesOf(shown(panels), "steps"),
      curves: namesOf(shown(panels), "curves"),
      points: namesOf(shown(panels), "points"),
    },
  };
}

/** Panels with a legend. */
const shown = (panels: readonly DepthPanel[]) =>
  panels.filter((panel) => panel.kind === "values" && panel.legend !== "");

function belowBand({ below, base_m }: DepthFigure, { y }: DepthFrame): readonly Json[] {
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
  told: boolean,
): readonly Json[] {
  if (below === undefined || !(below.from_m < base_m)) return [];
  const data = { values: [{ u: rounded(below.from_m, 2), t: below.text }] };
  const mark = { type: "rule", color: greys.text, strokeDash: [2, 3] };
  const rule = { data, mark, encoding: { y: y("u") } };
  if (!told) return [rule];
  const text = haloed(
    { x: 0, dx: 4, dy: 3, align: "left", baseline: "top", color: greys.quiet, lineBreak: "\n" },
    { data, encoding: { y: y("u"), text: { field: "t" } } },
  );
  return [rule, ...text];
}
