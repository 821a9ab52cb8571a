import type { VegaLiteSpec } from "../../step/figure.js";
import { composeCurve } from "./curve-compose.js";
import type { CurveFigure } from "./curve-types.js";

export type { CurveAxis, CurveFigure, CurvePlot, CurveSeries } from "./curve-types.js";

/**
 * Curves, points with error bars and fitted lines in small plots, as a Vega-Lite 5 specification.
 * Numbers are rounded to four significant digits (five for x); long series are thinned to the lowest and highest value
 * of each 1.5 px.
 *
 * @param figure what to draw
 * @returns plain JSON
 */
export function curveSpec(figure: CurveFigure): VegaLiteSpec {
  return composeCurve(figure);
}
