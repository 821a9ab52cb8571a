import type { VegaLiteSpec } from "../../step/figure.js";
import { composePlanMap } from "./plan-map-compose.js";
import type { PlanMap } from "./plan-map-types.js";

export type { PlanLine, PlanMap, PlanPoint, PlanStretch, PlanTick } from "./plan-map-types.js";

/**
 * A plan of lines, coloured stretches and named points, as a Vega-Lite 5 specification. One metre
 * east is as long as one metre north. Coordinates are drawn from an origin, rounded to 100 m, that
 * the axes state; grid north is up, and an arrow says so. Names that would overlap are left to the
 * tooltip.
 *
 * @param map what to draw; coordinates in m of one projection
 * @returns plain JSON
 */
export function planMapSpec(map: PlanMap): VegaLiteSpec {
  return composePlanMap(map);
}
