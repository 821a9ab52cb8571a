import { rounded } from "../numbers.js";
import type { PlanFrame } from "./plan-frame.js";
import type { PlanLine, PlanMap } from "./plan-map-types.js";

type Json = Readonly<Record<string, unknown>>;

/** Vertices that one line may take; a vertex is kept only where it moves the pen by a pixel. */
const step_px = 1;

/** The encodings of both axes, which every layer repeats. */
export function planAxes(map: PlanMap, frame: PlanFrame): { readonly x: Json; readonly y: Json } {
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

/** Vertices of a line in m from the origin, in order, numbered so that the line keeps its order. */
export function planVertices(
  line: Pick<PlanLine, "easting_m" | "northing_m">,
  frame: PlanFrame,
): readonly Json[] {
  const rows: Json[] = [];
  let run = 0;
  let pen: readonly [number, number] | null = null;
  const last = line.easting_m.length - 1;
  for (let i = 0; i <= last; i++) {
    const [e, n] = [line.easting_m[i]! - frame.origin[0], line.northing_m[i]! - frame.origin[1]];
    if (!Number.isFinite(e) || !Number.isFinite(n)) {
      if (pen !== null) run += 1;
      pen = null;
      continue;
    }
    const moved = pen === null ? Infinity : Math.hypot(e - pen[0], n - pen[1]) / frame.metresPer_px;
    if (moved < step_px && i < last) continue;
    rows.push({ e: rounded(e), n: rounded(n), i: rows.length, r: run });
    pen = [e, n];
  }
  return rows;
}
