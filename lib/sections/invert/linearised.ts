import { normalMatrix } from "../../numerics/algebra/normal-matrix.js";
import { pivotedCholesky } from "../../numerics/algebra/pivoted-cholesky.js";

/** The readings' misfit about a section, as a quadratic form in ln ρ. */
export interface Linearised {
  /** ln ρ about which it holds. */
  readonly at: Float64Array;
  /** V with Vᵀ V = Jᵀ W J, r × m. */
  readonly directions: Float64Array;
  /** Jᵀ W (d − f). */
  readonly slope: Float64Array;
  /** (d − f)ᵀ W (d − f). */
  readonly misfit: number;
  /** Readings. */
  readonly count: number;
}

export interface Residuals {
  readonly residual: Float64Array;
  /** 1/variance of each. */
  readonly weight: Float64Array;
  /** n × m. */
  readonly jacobian: Float64Array;
}

/** Knowledge of a cell below this share of a variance of 1 (ln ρ) is left out. */
const UNSEEN = 0.03;

export function linearised(
  at: Float64Array,
  { residual, weight, jacobian }: Residuals,
): Linearised {
  const m = at.length;
  const scaled = new Float64Array(jacobian.length);
  const slope = new Float64Array(m);
  let misfit = 0;
  for (let n = 0; n < residual.length; n++) {
    const root = Math.sqrt(weight[n]!);
    misfit += weight[n]! * residual[n]! ** 2;
    for (let c = 0; c < m; c++) {
      const entry = root * jacobian[n * m + c]!;
      scaled[n * m + c] = entry;
      slope[c] = slope[c]! + entry * root * residual[n]!;
    }
  }
  const directions = pivotedCholesky(normalMatrix(scaled, m), {
    scale: new Float64Array(m).fill(1),
    tolerance: UNSEEN,
  });
  return { at, directions, slope, misfit, count: residual.length };
}

/** The misfit of another section by the quadratic form. */
export function misfitOf(form: Linearised, logResistivity: Float64Array): number {
  const { at, directions, slope, misfit } = form;
  const m = at.length;
  let sum = misfit;
  for (let c = 0; c < m; c++) sum -= 2 * slope[c]! * (logResistivity[c]! - at[c]!);
  for (let k = 0; k * m < directions.length; k++) {
    let along = 0;
    for (let c = 0; c < m; c++) along += directions[k * m + c]! * (logResistivity[c]! - at[c]!);
    sum += along * along;
  }
  return sum;
}
