import { rounded } from "../numbers.js";
import type { Position } from "../spec.js";
import type { PlanFrame } from "./frame.js";
import type { PlanLine, PlanMap } from "./types.js";

/** Vertices that one line may take; a vertex is kept only where it moves the pen by a pixel. */
const step_px = 1;

/** The encodings of both axes, which every layer repeats. */
export function planAxes(
  map: PlanMap,
  frame: PlanFrame,
): { readonly x: Position; readonly y: Position } {
  const [east, north] = frame.origin.map((metres) => metres.toLocaleString("en-GB"));
  const code = map.epsg === undefined ? "" : `, EPSG:${map.epsg}`;
  const axis = (title: string, count: number) => ({ title, tickCount: count, format: ",~f" });
  const scale = (domain: readonly [number, number]) => ({
    domain: [...domain],
    nice: false,
    zero: false,
  });
  return {
    x: {
      field: "e",
      type: "quantitative",
      scale: scale(frame.east_m),
      axis: axis(`East of ${east} m (m${code})`, 10),
    },
    y: {
      field: "n",
      type: "quantitative",
      scale: scale(frame.north_m),
      axis: axis(`North of ${north} m (m)`, Math.max(2, Math.round(frame.height_px / 70))),
    },
  };
}

/**
 * A vertex in m from the origin: its place, its number in the line, and the unbroken run it is of.
 */
type Vertex = {
  readonly e: number | null;
  readonly n: number | null;
  readonly i: number;
  readonly r: number;
};

/** Vertices of a line in order; NaN breaks it into runs. */
export function planVertices(
  line: Pick<PlanLine, "easting_m" | "northing_m">,
  frame: PlanFrame,
): readonly Vertex[] {
  const rows: Vertex[] = [];
  let run = 0;
  let pen: readonly [number, number] | null = null;
  const eastings = Array.from(line.easting_m);
  for (const [i, east] of eastings.entries()) {
    const e = east - frame.origin[0];
    const n = (line.northing_m[i] ?? Number.NaN) - frame.origin[1];
    if (!Number.isFinite(e) || !Number.isFinite(n)) {
      if (pen !== null) run += 1;
      pen = null;
      continue;
    }
    const moved = pen === null ? Infinity : Math.hypot(e - pen[0], n - pen[1]) / frame.metresPer_px;
    if (moved < step_px && i < eastings.length - 1) continue;
    rows.push({ e: rounded(e), n: rounded(n), i: rows.length, r: run });
    pen = [e, n];
  }
  return rows;
}
