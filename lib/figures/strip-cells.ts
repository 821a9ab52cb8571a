import { logTicks } from "./axes.js";
import { type DrawnCell, drawnCells } from "./cells.js";
import { haloed } from "./halo.js";
import { logDomain, rounded, significant } from "./numbers.js";
import type { DrawnPanel, PanelFrame } from "./strip-frame.js";
import type { CellsPanel } from "./strip-types.js";
import { greys, resistivityRamp } from "./theme.js";

type Json = Readonly<Record<string, unknown>>;

export function cellsLayers(panel: CellsPanel, { frame, x, height_px }: PanelFrame): DrawnPanel {
  const domain = panel.domain ?? logDomain([panel.cells.map(({ value }) => value)]);
  const cells = drawnCells(panel.cells, { width_m: frame.metresPer_px * 1.5, domain });
  const y = depthAxis(panel);
  const deepest_m = y.scale.domain[1]!;
  const seam = { along_m: 0.6 * frame.metresPer_px, down_m: (0.6 * deepest_m) / height_px };
  const layers = [
    {
      mark: { type: "rect", clip: true },
      encoding: {
        x: x("a"),
        x2: { field: "b" },
        y: { field: "u", ...y },
        y2: { field: "l" },
        fill: { field: "k", type: "nominal", scale: null },
        tooltip: tooltip(panel),
      },
    },
    legendLayer(panel, { domain, height_px }, { x: x("a"), y: { field: "u", ...y } }),
    ...reliableLayers(panel, y),
  ];
  return { data: cells.map((cell) => row(cell, seam)), layers };
}

// A cell runs a little under the next to the right and below, so that no background shows between.
function row(cell: DrawnCell, seam: { readonly along_m: number; readonly down_m: number }): Json {
  return {
    a: rounded(cell.from_m, 2),
    b: rounded(cell.to_m + seam.along_m, 2),
    u: rounded(cell.top_m, 2),
    l: rounded(cell.base_m + seam.down_m, 3),
    v: significant(cell.value, 3),
    c: rounded(cell.confidence, 2),
    k: cell.colour,
  };
}

function depthAxis(panel: CellsPanel) {
  const deepest = panel.cells.reduce((most, { base_m }) => Math.max(most, base_m), 0);
  return {
    type: "quantitative",
    scale: { domain: [0, deepest > 0 ? deepest : 1], reverse: true, nice: false },
    axis: { title: "Depth (m)", grid: false, tickCount: 5 },
  };
}

interface Legend {
  readonly domain: readonly [number, number];
  readonly height_px: number;
}

/** An unseen cell that carries the scale of the colours, because the drawn cells carry colours. */
function legendLayer(panel: CellsPanel, { domain, height_px }: Legend, place: Json): Json {
  const stops = resistivityRamp.length - 1;
  const steps = resistivityRamp.map((_, i) => domain[0] * (domain[1] / domain[0]) ** (i / stops));
  const faded = panel.cells.some(({ confidence }) => (confidence ?? 1) < 0.95);
  const legend = {
    title: faded ? [panel.unit, "(pale: uncertain)"] : panel.unit,
    values: logTicks(domain),
    format: "~g",
    gradientLength: Math.max(60, height_px - 40),
    gradientThickness: 12,
    gradientOpacity: 1,
  };
  return {
    data: { values: [{ a: null, u: 0, v: domain[0] }] },
    mark: { type: "point", opacity: 0, filled: true },
    encoding: {
      ...place,
      color: {
        field: "v",
        type: "quantitative",
        scale: {
          type: "log",
          domain: steps.map((step) => significant(step, 6)),
          range: [...resistivityRamp],
        },
        legend,
      },
    },
  };
}

function reliableLayers(panel: CellsPanel, y: Json): readonly Json[] {
  const depth = panel.reliableTo_m;
  if (depth === undefined || !Number.isFinite(depth)) return [];
  const data = { values: [{ d: rounded(depth, 2), t: `reliable to ${rounded(depth)} m` }] };
  return [
    {
      data,
      mark: { type: "rule", color: greys.text, strokeDash: [2, 3] },
      encoding: { y: { field: "d", ...y } },
    },
    ...haloed(
      { x: "width", align: "right", baseline: "bottom", dx: -4, dy: -2 },
      { data, encoding: { y: { field: "d", ...y }, text: { field: "t" } } },
    ),
  ];
}

function tooltip(panel: CellsPanel): readonly Json[] {
  return [
    { field: "v", title: panel.unit },
    { field: "c", title: "Confidence (0 to 1)" },
    { field: "a", title: "From (m)" },
    { field: "u", title: "Depth from (m)" },
  ];
}
