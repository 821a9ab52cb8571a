import type { VegaLiteSpec } from "../../step/figure.js";
import { haloed } from "../halo.js";
import { emptyView, figureSpec, type Panel } from "../spec.js";
import { fontSizes } from "../theme.js";
import { cellsLayers } from "./cells.js";
import {
  backgroundLayers,
  chainageAxis,
  type DrawnPanel,
  flagLayers,
  markRules,
  type PanelFrame,
  type StripFrame,
  stripFrame,
} from "./frame.js";
import { linesLayers } from "./lines.js";
import { pointsLayers } from "./points.js";
import { rowsHeight_px, rowsLayers } from "./rows.js";
import { stretchesHeight_px, stretchesLayers } from "./stretches.js";
import type { Strip, StripPanel } from "./types.js";

export type {
  Cell,
  CellSpot,
  CellsPanel,
  LinesPanel,
  PointsPanel,
  RowsPanel,
  SetAsideBand,
  Stretch,
  StretchesPanel,
  Strip,
  StripMark,
  StripPanel,
  StripPoint,
  StripRow,
  StripSeries,
} from "./types.js";

/**
 * Panels stacked over one chainage axis, as a Vega-Lite 5 specification.
 *
 * Set-aside stretches are grey bands through the panels, with their causes written above on
 * staggered rows; curves stop there because their values are NaN there. Long curves are thinned to
 * the lowest and highest value of each 1.5 px, long sections merge cells narrower than that.
 * Numbers are rounded to four significant digits and chainages to 0.1 m.
 *
 * @param strip what to draw; chainages in m
 * @returns plain JSON
 * @example
 * stripSpec({ title: "The bank is wetter past 1,200 m", panels: [] }).$schema;
 * // "https://vega.github.io/schema/vega-lite/v5.json"
 */
export function stripSpec(strip: Strip): VegaLiteSpec {
  const frame = stripFrame(strip);
  const seriesCount = countSeries(strip.panels);
  const last = strip.panels.length - 1;
  const views = strip.panels.map((panel, row) => {
    const x = chainageAxis(frame, row === last);
    const height_px = panelHeight_px(panel, frame);
    return view(panel, { frame, x, seriesCount, height_px }, row);
  });
  return figureSpec(strip, frame.width_px, {
    datasets: { setAside: [...frame.setAside], marks: [...frame.marks] },
    bounds: "flush",
    spacing: 32,
    resolve: {
      scale: { color: "independent", fill: "independent" },
      legend: { color: "independent", fill: "independent" },
    },
    vconcat: views.length > 0 ? views : [emptyView(frame.width_px)],
  });
}

function view(panel: StripPanel, panelFrame: PanelFrame, row: number): Panel {
  const { frame, x } = panelFrame;
  const { data, layers } = panelLayers(panel, panelFrame);
  return {
    width: frame.width_px,
    height: panelFrame.height_px,
    data: { values: data },
    layer: [
      ...backgroundLayers(frame, x),
      ...layers,
      ...markRules(frame, x),
      ...(row === 0 ? flagLayers(frame, x) : []),
      ...haloed({ text: panel.label, x: 0, y: -12, align: "left", fontSize: fontSizes.heading }),
    ],
  };
}

function panelLayers(panel: StripPanel, panelFrame: PanelFrame): DrawnPanel {
  switch (panel.kind) {
    case "lines":
      return linesLayers(panel, panelFrame);
    case "cells":
      return cellsLayers(panel, panelFrame);
    case "stretches":
      return stretchesLayers(panel, panelFrame);
    case "points":
      return pointsLayers(panel, panelFrame);
    case "rows":
      return rowsLayers(panel, panelFrame);
  }
}

function panelHeight_px(panel: StripPanel, frame: StripFrame): number {
  switch (panel.kind) {
    case "lines":
      return panel.height_px ?? Math.max(130, 17 * panel.series.length + 24);
    case "cells":
      return panel.height_px ?? 150;
    case "points":
      return panel.height_px ?? 110;
    case "stretches":
      return stretchesHeight_px(panel, frame);
    case "rows":
      return rowsHeight_px(panel);
  }
}

function countSeries(panels: readonly StripPanel[]): number {
  return panels.reduce((sum, panel) => sum + (panel.kind === "lines" ? panel.series.length : 1), 0);
}
