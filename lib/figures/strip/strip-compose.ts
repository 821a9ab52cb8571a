import type { VegaLiteSpec } from "../../step/figure.js";
import { haloed } from "../halo.js";
import { fontSizes, theme } from "../theme.js";
import { titleBlock } from "../title.js";
import { cellsLayers } from "./strip-cells.js";
import {
  backgroundLayers,
  chainageAxis,
  type DrawnPanel,
  flagLayers,
  markRules,
  type PanelFrame,
  type StripFrame,
  stripFrame,
} from "./strip-frame.js";
import { linesLayers } from "./strip-lines.js";
import { pointsLayers } from "./strip-points.js";
import { rowsHeight_px, rowsLayers } from "./strip-rows.js";
import { stretchesHeight_px, stretchesLayers } from "./strip-stretches.js";
import type { Strip, StripPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

export function composeStrip(strip: Strip): VegaLiteSpec {
  const frame = stripFrame(strip);
  const seriesCount = countSeries(strip.panels);
  const last = strip.panels.length - 1;
  const views = strip.panels.map((panel, row) => {
    const x = (field: string) => chainageAxis(frame, field, row === last);
    const height_px = panelHeight_px(panel, frame);
    return view(panel, { frame, x, seriesCount, height_px }, row);
  });
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(strip, frame.width_px),
    config: theme,
    datasets: { setAside: frame.setAside, marks: frame.marks },
    bounds: "flush",
    spacing: 32,
    resolve: {
      scale: { color: "independent", fill: "independent" },
      legend: { color: "independent", fill: "independent" },
    },
    vconcat: views.length > 0 ? views : [emptyView(frame)],
  };
}

function view(panel: StripPanel, panelFrame: PanelFrame, row: number): Json {
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

function emptyView(frame: StripFrame): Json {
  return {
    width: frame.width_px,
    height: 40,
    data: { values: [{ t: "No data for this figure" }] },
    mark: { type: "text", x: 0, align: "left" },
    encoding: { text: { field: "t" } },
  };
}
