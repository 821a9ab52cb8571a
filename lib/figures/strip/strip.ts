import type { VegaLiteSpec } from "../../step/figure.js";
import { composeStrip } from "./strip-compose.js";
import type { Strip } from "./strip-types.js";

export type {
  Cell,
  CellsPanel,
  LinesPanel,
  PointsPanel,
  RowsPanel,
  SetAsideBand,
  Stretch,
  StretchesPanel,
  Strip,
  StripMark,
  StripPanel,
  StripPoint,
  StripRow,
  StripSeries,
} from "./strip-types.js";

/**
 * Panels stacked over one chainage axis, as a Vega-Lite 5 specification.
 *
 * Set-aside stretches are grey bands through the panels, with their causes written above on staggered
 * rows; curves stop there because their values are NaN there. Long curves are thinned to the lowest
 * and highest value of each 1.5 px, long sections merge cells narrower than that. Numbers are rounded
 * to four significant digits and chainages to 0.1 m.
 *
 * @param strip what to draw; chainages in m
 * @returns plain JSON
 * @example
 * stripSpec({ title: "The bank is wetter past 1,200 m", panels: [] }).$schema;
 * // "https://vega.github.io/schema/vega-lite/v5.json"
 */
export function stripSpec(strip: Strip): VegaLiteSpec {
  return composeStrip(strip);
}
