import type { MapEstimate } from "./line-equations.js";
import { deviationOf, forEachDatum, gainOf, huberWeight } from "./line-state.js";

/** The linearised data at the MAP estimate over their deviations; 0 where there is no datum. */
export interface ScaledRows {
  /** n × c × m derivatives to ln conductivity. */
  readonly rows: Float64Array;
  /** n × c each: residual, and derivatives to the walk's error, the channel's gain and its zero. */
  readonly residuals: Float64Array;
  readonly walkError: Float64Array;
  readonly gain: Float64Array;
  readonly shift: Float64Array;
}

export function scaledRows(map: MapEstimate): ScaledRows {
  const { data, jacobian_ppm, response_ppm } = map;
  const { n, c, m, gainSd, shiftSd_ppm, walkSd } = data;
  const blank = () => new Float64Array(n * c);
  const [residuals, walkError, gain, shift] = [blank(), blank(), blank(), blank()];
  const rows = new Float64Array(n * c * m);
  forEachDatum(map, (i, d, residual) => {
    const at = i * c + d;
    const root = Math.sqrt(huberWeight(residual));
    const scale = root / deviationOf(map, i, d);
    const byModel = scale * gainOf(map, i, d);
    for (let j = 0; j < m; j++) rows[at * m + j] = byModel * jacobian_ppm[at * m + j]!;
    residuals[at] = root * residual;
    walkError[at] = scale * response_ppm[at]! * walkSd;
    gain[at] = scale * response_ppm[at]! * gainSd[d]!;
    shift[at] = scale * shiftSd_ppm[d]!;
  });
  return { rows, residuals, walkError, gain, shift };
}
