import { haloed } from "../halo.js";
import { logDomain, rounded, significant } from "../numbers.js";
import type { Layer, Mark, Positions, Row, Tooltip } from "../spec.js";
import { greys } from "../theme.js";
import { cellsLegends } from "./cells-legend.js";
import type { DrawnPanel, PanelFrame, StripFrame } from "./frame.js";
import { type DrawnCell, drawnCells } from "./merged-cells.js";
import { type DepthAxis, depthAxis, lineAtDepth, type SurfaceRun, surfaceRuns } from "./surface.js";
import type { CellSpot, CellsPanel } from "./types.js";

export function cellsLayers(panel: CellsPanel, { frame, x, height_px }: PanelFrame): DrawnPanel {
  const domain = panel.domain ?? logDomain([panel.cells.map(({ value }) => value)]);
  const depths = depthAxis(panel, height_px);
  const { surfaceStep_m } = depths;
  const width_m = frame.metresPer_px * 1.5;
  const cells = drawnCells(panel.cells, { width_m, domain, surfaceStep_m });
  const y: Positions = (field) => ({ field, ...depths.axis });
  const layers: Layer[] = [
    {
      mark: { type: "rect", clip: true },
      encoding: {
        ...{ x: x("a"), x2: { field: "b" }, y: y("u"), y2: { field: "l" } },
        fill: { field: "k", type: "nominal", scale: null },
        tooltip: tooltip(panel, depths),
      },
    },
    ...cellsLegends(panel, { domain, height_px }, { x: x("a"), y: y("u") }),
    ...lineLayers(panel, surfaceRuns(cells), { depths, x, y, frame }),
    ...spotLayers(panel, { depths, x, y }),
  ];
  const seam = { along_m: 0.6 * frame.metresPer_px, down: 0.6 * depths.downPer_px };
  return { data: cells.map((cell) => row(cell, depths, seam)), layers };
}

// A cell runs a little under the next to the right and below, so that no background shows between.
function row(
  cell: DrawnCell,
  { place }: DepthAxis,
  seam: { readonly along_m: number; readonly down: number },
): Row {
  return {
    a: rounded(cell.from_m, 2),
    b: rounded(cell.to_m + seam.along_m, 2),
    u: rounded(place(cell.top_m, cell.surface_m), 3),
    l: rounded(place(cell.base_m, cell.surface_m) + seam.down, 3),
    v: significant(cell.value, 3),
    c: rounded(cell.confidence, 2),
    k: cell.colour,
  };
}

interface LineFrame {
  readonly depths: DepthAxis;
  readonly x: Positions;
  readonly y: Positions;
  readonly frame: StripFrame;
}

/** Room that the text of the reliable depth takes at the right end, px. */
const text_px = 150;

/** The surface where it has an elevation, and the reliable depth with its text. */
function lineLayers(
  { reliableTo_m: depth_m = Number.NaN }: CellsPanel,
  runs: readonly SurfaceRun[],
  { depths, x, y, frame }: LineFrame,
): readonly Layer[] {
  const line = (at_m: number, look: Omit<Mark, "type">): Layer => ({
    data: { values: lineAtDepth(runs, at_m, depths.place) },
    mark: { type: "line", color: greys.text, clip: true, ...look },
    encoding: { x: x("a"), y: y("d") },
  });
  const surface = depths.surfaceStep_m > 0 ? [line(0, { strokeWidth: 1.6 })] : [];
  const last = runs.at(-1);
  if (!Number.isFinite(depth_m) || last === undefined) return surface;
  // Above the line wherever the line runs under the text.
  const from_m = Math.min(frame.domain_m[1] - text_px * frame.metresPer_px, last.to_m);
  const under = runs.filter((run) => run.to_m >= from_m);
  const highest_m = under.reduce((most, run) => Math.max(most, run.surface_m), last.surface_m);
  const t = `reliable to ${rounded(depth_m)} m${depths.surfaceStep_m > 0 ? " depth" : ""}`;
  const value = { d: rounded(depths.place(depth_m, highest_m), 3), t };
  const text = haloed(
    { x: "width", align: "right", baseline: "bottom", dx: -4, dy: -2 },
    { data: { values: [value] }, encoding: { y: y("d"), text: { field: "t" } } },
  );
  return [...surface, line(depth_m, { strokeWidth: 1, strokeDash: [2, 3] }), ...text];
}

const SPOTS: Readonly<Record<CellSpot["shape"], Omit<Mark, "type">>> = {
  dot: { shape: "circle", size: 3, filled: true, color: greys.text, opacity: 0.45 },
  up: { shape: "triangle-up", size: 46, filled: true, color: greys.text, stroke: "white" },
  down: { shape: "triangle-down", size: 46, filled: true, color: greys.text, stroke: "white" },
};

/** Marks at places of the section, one layer a shape. */
function spotLayers(
  { spots = [] }: CellsPanel,
  { depths, x, y }: Omit<LineFrame, "frame">,
): readonly Layer[] {
  return (["dot", "up", "down"] as const).flatMap((shape): Layer[] => {
    const values = spots
      .filter((spot) => spot.shape === shape)
      .map(({ x_m, depth_m, surface_m = 0, text }) => ({
        a: rounded(x_m, 2),
        d: rounded(depths.place(depth_m, surface_m), 3),
        t: text,
      }));
    if (values.length === 0) return [];
    const mark: Mark = { type: "point", clip: true, strokeWidth: 0.7, ...SPOTS[shape] };
    const encoding = { x: x("a"), y: y("d"), tooltip: [{ field: "t", title: "Reading" }] };
    return [{ data: { values }, mark, encoding }];
  });
}

function tooltip(panel: CellsPanel, { surfaceStep_m }: DepthAxis): Tooltip {
  const title = surfaceStep_m > 0 ? "Elevation from (m)" : "Depth from (m)";
  return [
    { field: "v", title: panel.unit },
    { field: "c", title: "Confidence (0 to 1)" },
    { field: "a", title: "From (m)" },
    { field: "u", title },
  ];
}
