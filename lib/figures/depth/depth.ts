import type { VegaLiteSpec } from "../../step/figure.js";
import { composeDepth } from "./depth-compose.js";
import type { DepthFigure } from "./depth-types.js";

export type {
  ColumnPanel,
  DepthCurve,
  DepthFigure,
  DepthPanel,
  DepthPoint,
  DepthSteps,
  ValuesPanel,
} from "./depth-types.js";

/**
 * Panels side by side over one depth axis that grows downward, as a Vega-Lite 5 specification: steps
 * by layer with bands, curves, points, and columns of named layers.
 *
 * @param figure what to draw; depths in m. What lies deeper than `base_m` is cut off. Values are rounded to
 *   four significant digits; NaN is left out and breaks a line.
 * @returns plain JSON
 * @example
 * depthSpec({ title: "Nothing below 2 m", base_m: 4, panels: [] }).$schema;
 * // "https://vega.github.io/schema/vega-lite/v5.json"
 */
export function depthSpec(figure: DepthFigure): VegaLiteSpec {
  return composeDepth(figure);
}
