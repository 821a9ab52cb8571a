import { gainOf, type MapEstimate } from "./line-equations.js";
import { huberWeight, residualAt } from "./line-state.js";

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

export function scaledRows({ data, hyper, state }: MapEstimate): ScaledRows {
  const { n, c, m, gainSd, shiftSd_ppm, walkSd } = data;
  const blank = () => new Float64Array(n * c);
  const [residuals, walkError, gain, shift] = [blank(), blank(), blank(), blank()];
  const rows = new Float64Array(n * c * m);
  const residual = residualAt(data, hyper, state);
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c && data.known[i] === 1; d++) {
      const at = i * c + d;
      const size = residual(i, d);
      if (Number.isNaN(size)) continue;
      const root = Math.sqrt(huberWeight(size));
      const scale = root / (data.sd_ppm[at]! * hyper.noiseScale[d]!);
      const byModel = scale * gainOf(data, state, { i, d });
      for (let j = 0; j < m; j++) rows[at * m + j] = byModel * state.jacobian_ppm[at * m + j]!;
      residuals[at] = root * size;
      walkError[at] = scale * state.response_ppm[at]! * walkSd;
      gain[at] = scale * state.response_ppm[at]! * gainSd[d]!;
      shift[at] = scale * shiftSd_ppm[d]!;
    }
  }
  return { rows, residuals, walkError, gain, shift };
}
