import { gainOf, type LikelyLine } from "./line-equations.js";
import { huberWeight, residualAt } from "./line-state.js";

/** Each datum at the most likely model, over its deviation; 0 throughout where there is none. */
export interface ScaledRows {
  /** n × c × m derivatives to ln conductivity. */
  readonly rows: Float64Array;
  /** n × c each: what is left of the datum, and its derivatives to its walk's error, to its channel's gain and zero. */
  readonly left: Float64Array;
  readonly own: Float64Array;
  readonly gain: Float64Array;
  readonly shift: Float64Array;
}

export function scaledRows({ data, belief, state }: LikelyLine): ScaledRows {
  const { n, c, m, gainSd, shiftSd_ppm, walkSd } = data;
  const blank = () => new Float64Array(n * c);
  const [left, own, gain, shift] = [blank(), blank(), blank(), blank()];
  const rows = new Float64Array(n * c * m);
  const residual = residualAt(data, belief, state);
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c && data.known[i] === 1; d++) {
      const at = i * c + d;
      const size = residual(i, d);
      if (Number.isNaN(size)) continue;
      const root = Math.sqrt(huberWeight(size));
      const scale = root / (data.sd_ppm[at]! * belief.noiseScale[d]!);
      const byModel = scale * gainOf(data, state, { i, d });
      for (let j = 0; j < m; j++) rows[at * m + j] = byModel * state.jacobian_ppm[at * m + j]!;
      left[at] = root * size;
      own[at] = scale * state.response_ppm[at]! * walkSd;
      gain[at] = scale * state.response_ppm[at]! * gainSd[d]!;
      shift[at] = scale * shiftSd_ppm[d]!;
    }
  }
  return { rows, left, own, gain, shift };
}
