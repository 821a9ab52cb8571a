import { extent } from "../numbers.js";
import { figureWidth_px } from "../theme.js";
import type { PlanMap } from "./types.js";

/** How the ground lies on the paper: origin, drawn window, and one scale for both axes. */
export interface PlanFrame {
  readonly origin: readonly [number, number];
  readonly width_px: number;
  readonly height_px: number;
  /** Window in m from the origin. */
  readonly east_m: readonly [number, number];
  readonly north_m: readonly [number, number];
  readonly metresPer_px: number;
}

const margin_px = 34;
const lowest_px = 170;
const tallest_px = 640;

export function planFrame(map: PlanMap): PlanFrame {
  const width_px = map.width_px ?? figureWidth_px;
  const east = covered(map, "easting_m");
  const north = covered(map, "northing_m");
  const [spanEast, spanNorth] = [east[1] - east[0], north[1] - north[0]];
  const margins_px = 2 * margin_px;
  const byHeight = spanNorth / (tallest_px - margins_px);
  const metresPer_px = Math.max(spanEast / (width_px - margins_px), byHeight, 0.01);
  const height_px = Math.round(Math.max(lowest_px, spanNorth / metresPer_px + margins_px));
  const origin = [Math.floor(east[0] / 100) * 100, Math.floor(north[0] / 100) * 100] as const;
  return {
    origin,
    width_px,
    height_px,
    east_m: window(east, origin[0], (width_px * metresPer_px) / 2),
    north_m: window(north, origin[1], (height_px * metresPer_px) / 2),
    metresPer_px,
  };
}

/** A place on the ground, m of the map's projection. */
export interface PlanPlace {
  readonly easting_m: number;
  readonly northing_m: number;
}

/** Place on the paper, px from the upper left corner. */
export function onPaper(frame: PlanFrame, place: PlanPlace): readonly [number, number] {
  const { origin, east_m, north_m, metresPer_px, height_px } = frame;
  const x = (place.easting_m - origin[0] - east_m[0]) / metresPer_px;
  const y = height_px - (place.northing_m - origin[1] - north_m[0]) / metresPer_px;
  return [x, y];
}

function window(
  range: readonly [number, number],
  origin: number,
  half: number,
): readonly [number, number] {
  const middle = (range[0] + range[1]) / 2 - origin;
  return [middle - half, middle + half];
}

function covered(map: PlanMap, axis: "easting_m" | "northing_m"): readonly [number, number] {
  const points = [...(map.points ?? []), ...(map.ticks ?? [])].map((point) => point[axis]);
  const lines = [...map.lines, ...(map.stretches ?? [])].map((line) => line[axis]);
  return extent([points, ...lines]) ?? [0, 100];
}
