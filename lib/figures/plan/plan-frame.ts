import { extent } from "../numbers.js";
import { figureWidth_px } from "../theme.js";
import type { PlanMap } from "./plan-map-types.js";

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
const heights_px = [170, 640] as const;

export function planFrame(map: PlanMap): PlanFrame {
  const width_px = map.width_px ?? figureWidth_px;
  const east = covered(map, "easting_m");
  const north = covered(map, "northing_m");
  const [spanEast, spanNorth] = [east[1] - east[0], north[1] - north[0]];
  const tallest = heights_px[1] - 2 * margin_px;
  const metresPer_px = Math.max(spanEast / (width_px - 2 * margin_px), spanNorth / tallest, 0.01);
  const height_px = Math.round(Math.max(heights_px[0], spanNorth / metresPer_px + 2 * margin_px));
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

/** Place on the paper, px from the upper left corner. */
export function onPaper(frame: PlanFrame, east: number, north: number): readonly [number, number] {
  const x = (east - frame.origin[0] - frame.east_m[0]) / frame.metresPer_px;
  const y = frame.height_px - (north - frame.origin[1] - frame.north_m[0]) / frame.metresPer_px;
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
