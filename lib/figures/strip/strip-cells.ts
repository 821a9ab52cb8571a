import { haloed } from "../halo.js";
import { logDomain, rounded, significant } from "../numbers.js";
import { greys } from "../theme.js";
import { type DrawnCell, drawnCells } from "./cells.js";
import { cellsLegends } from "./cells-legend.js";
import type { DrawnPanel, PanelFrame, StripFrame } from "./strip-frame.js";
import { type Hanging, hangingOf, hungLine, surfaceRuns } from "./strip-hanging.js";
import type { CellsPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

export function cellsLayers(panel: CellsPanel, { frame, x, height_px }: PanelFrame): DrawnPanel {
  const domain = panel.domain ?? logDomain([panel.cells.map(({ value }) => value)]);
  const hanging = hangingOf(panel, height_px);
  const { surfaceStep_m } = hanging;
  const cells = drawnCells(panel.cells, {
    width_m: frame.metresPer_px * 1.5,
    domain,
    surfaceStep_m,
  });
  const y = (field: string) => ({ field, ...hanging.axis });
  const layers = [
    {
      mark: { type: "rect", clip: true },
      encoding: {
        x: x("a"),
        x2: { field: "b" },
        y: y("u"),
        y2: { field: "l" },
        fill: { field: "k", type: "nominal", scale: null },
        tooltip: tooltip(panel, hanging),
      },
    },
    ...cellsLegends(panel, { domain, height_px }, { x: x("a"), y: y("u") }),
    ...lineLayers(panel, { cells, hanging, x, frame }),
  ];
  const seam = { along_m: 0.6 * frame.metresPer_px, down: 0.6 * hanging.downPer_px };
  return { data: cells.map((cell) => row(cell, hanging, seam)), layers };
}

// A cell runs a little under the next to the right and below, so that no background shows between.
function row(
  cell: DrawnCell,
  { place }: Hanging,
  seam: { readonly along_m: number; readonly down: number },
): Json {
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

interface Lines {
  readonly cells: readonly DrawnCell[];
  readonly hanging: Hanging;
  readonly x: (field: string) => Json;
  readonly frame: StripFrame;
}

/** Room that the text of the reliable depth takes at the right end, px. */
const TEXT_PX = 150;

/** The surface where it has an elevation, and the reliable depth with its text. */
function lineLayers(panel: CellsPanel, { cells, hanging, x, frame }: Lines): readonly Json[] {
  const { surfaceStep_m, place, axis } = hanging;
  const runs = surfaceRuns(cells);
  const line = (depth_m: number, look: Json) => ({
    data: { values: hungLine(runs, depth_m, place) },
    mark: { type: "line", color: greys.text, clip: true, ...look },
    encoding: { x: x("a"), y: { field: "d", ...axis } },
  });
  const surface = surfaceStep_m > 0 ? [line(0, { strokeWidth: 1.6 })] : [];
  const depth = panel.reliableTo_m;
  const last = runs.at(-1);
  if (depth === undefined || !Number.isFinite(depth) || last === undefined) return surface;
  const words = `reliable to ${rounded(depth)} m${surfaceStep_m > 0 ? " depth" : ""}`;
  // Above the line wherever the line runs under the text.
  const from_m = frame.domain_m[1] - TEXT_PX * frame.metresPer_px;
  const under = runs.filter((run) => run.to_m >= Math.min(from_m, last.to_m));
  const highest = under.reduce((most, run) => Math.max(most, run.surface_m), last.surface_m);
  const value = { d: rounded(place(depth, highest), 3), t: words };
  const text = haloed(
    { x: "width", align: "right", baseline: "bottom", dx: -4, dy: -2 },
    { data: { values: [value] }, encoding: { y: { field: "d", ...axis }, text: { field: "t" } } },
  );
  return [...surface, line(depth, { strokeWidth: 1, strokeDash: [2, 3] }), ...text];
}

function tooltip(panel: CellsPanel, { surfaceStep_m }: Hanging): readonly Json[] {
  const title = surfaceStep_m > 0 ? "Elevation from (m)" : "Depth from (m)";
  return [
    { field: "v", title: panel.unit },
    { field: "c", title: "Confidence (0 to 1)" },
    { field: "a", title: "From (m)" },
    { field: "u", title },
  ];
}
