import { choleskyFactor, choleskySolve } from "../../../numerics/algebra/cholesky.js";
import { type LayerPrior, unwhitened } from "../../prior/layer-prior.js";

/** The response of m layers at d data, with its derivatives, as the inversion needs it. */
export interface StationForward {
  readonly layers: number;
  readonly data: number;
  /** Fills `response` (d) and `jacobian` (d × m, row by datum) from ln conductivity (m). */
  evaluate(lnConductivity: Float64Array, response: Float64Array, jacobian: Float64Array): void;
}

export interface StationData {
  /** d values; NaN where a channel has none. */
  readonly value: Float64Array;
  /** d standard deviations. */
  readonly sd: Float64Array;
}

export interface StationEstimate {
  /** m ln conductivities of the MAP estimate. */
  readonly lnConductivity: Float64Array;
  /** m × m posterior covariance of the same. */
  readonly covariance: Float64Array;
  /** m × m share of it that comes from the readings' noise (Rodgers 2000, eq. 3.19). */
  readonly noiseCovariance: Float64Array;
  /**
   * Independent levels: the trace of I − A⁻¹, Σ s²/(1 + s²) over the singular values s of the
   * whitened derivatives (Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4;
   * from memory).
   */
  readonly levels: number;
  /** Root mean square of (value − response) / sd over the data present. */
  readonly misfit: number;
  /** d residuals (value − response) / sd; NaN where a channel has no value. */
  readonly residual: Float64Array;
  /** Number of data present. */
  readonly data: number;
}

const MAXIMUM_STEPS = 12;
const CONVERGED = 1e-3;

/**
 * The MAP layered earth of one station under a Gaussian prior and Gaussian noise, by damped
 * Gauss-Newton in prior-whitened unknowns m = prior + L ξ: minimises |(d − f)/sd|² + |ξ|².
 * The covariance is that of the linearised problem at the estimate, L A⁻¹ Lᵀ with
 * A = I + GᵀG and G = diag(1/sd) J L; the part from noise is L (A⁻¹ − A⁻²) Lᵀ.
 * Source: Tarantola 2005, Inverse Problem Theory, section 3.2 (from memory).
 */
export function invertStation(
  forward: StationForward,
  data: StationData,
  start: { readonly prior: LayerPrior; readonly priorMean: number; readonly xi: Float64Array },
): StationEstimate & { readonly xi: Float64Array } {
  const work = new StationProblem(forward, data, start.prior, start.priorMean);
  let xi: Float64Array = start.xi.slice();
  let cost = work.linearise(xi);
  for (let step = 0; step < MAXIMUM_STEPS; step++) {
    const direction = work.newtonStep(xi);
    const next = work.damped(xi, direction, cost);
    if (next === null) break;
    const moved = largest(direction) * next.length;
    xi = next.xi;
    cost = next.cost;
    if (moved < CONVERGED) break;
  }
  work.linearise(xi);
  return { ...work.estimate(xi), xi };
}

function largest(values: Float64Array): number {
  return values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** One station's data, prior and the arrays that its steps reuse. */
class StationProblem {
  private readonly m: number;
  private readonly present: number[];
  private readonly response: Float64Array;
  private readonly jacobian: Float64Array;
  private readonly model: Float64Array;
  /** Rows of diag(1/sd) J L for the data present. */
  private readonly whitened: Float64Array;
  private readonly residual: Float64Array;

  constructor(
    private readonly forward: StationForward,
    private readonly data: StationData,
    private readonly prior: LayerPrior,
    private readonly priorMean: number,
  ) {
    this.m = forward.layers;
    this.present = [...data.value.keys()].filter((i) => !Number.isNaN(data.value[i]));
    this.response = new Float64Array(forward.data);
    this.jacobian = new Float64Array(forward.data * this.m);
    this.model = new Float64Array(this.m);
    this.whitened = new Float64Array(this.present.length * this.m);
    this.residual = new Float64Array(this.present.length);
  }

  /** Response, residual and whitened derivatives at ξ; returns the cost there. */
  linearise(xi: Float64Array): number {
    const { m, present, prior } = this;
    this.setModel(xi);
    this.forward.evaluate(this.model, this.response, this.jacobian);
    let cost = 0;
    for (const value of xi) cost += value * value;
    for (const [row, datum] of present.entries()) {
      const sd = this.data.sd[datum]!;
      this.residual[row] = (this.data.value[datum]! - this.response[datum]!) / sd;
      cost += this.residual[row]! ** 2;
      for (let j = 0; j < m; j++) {
        let sum = 0;
        for (let i = j; i < m; i++) {
          sum += this.jacobian[datum * m + i]! * prior.factor[i * m + j]!;
        }
        this.whitened[row * m + j] = sum / sd;
      }
    }
    return cost;
  }

  newtonStep(xi: Float64Array): Float64Array {
    const { m, whitened, residual } = this;
    const right = Float64Array.from(xi, (value) => -value);
    for (let row = 0; row < residual.length; row++) {
      for (let j = 0; j < m; j++) right[j]! += whitened[row * m + j]! * residual[row]!;
    }
    return choleskySolve(this.normalFactor(), m, right);
  }

  /** Line search: the longest of a few fractions of the step that lowers the cost, or null. */
  damped(
    xi: Float64Array,
    direction: Float64Array,
    cost: number,
  ): { xi: Float64Array; cost: number; length: number } | null {
    const limit = Math.min(1, 3 / Math.max(largest(direction), 1e-12));
    for (let length = limit; length > 0.02 * limit; length /= 3) {
      const tried = xi.map((value, j) => value + length * direction[j]!);
      const reached = this.linearise(tried);
      if (reached < cost) return { xi: tried, cost: reached, length };
    }
    return null;
  }

  estimate(xi: Float64Array): StationEstimate {
    const { m, prior } = this;
    this.setModel(xi);
    const inverse = inverseOf(this.normalFactor(), m);
    const fromNoise = product(inverse, inverse, m).map((value, at) => inverse[at]! - value);
    const squares = this.residual.reduce((sum, value) => sum + value * value, 0);
    return {
      lnConductivity: this.model.slice(),
      covariance: unwhitened(inverse, prior.factor, { q: m, at: 0 }),
      noiseCovariance: unwhitened(fromNoise, prior.factor, { q: m, at: 0 }),
      levels: xi.reduce((sum, _, j) => sum + 1 - inverse[j * m + j]!, 0),
      misfit: Math.sqrt(squares / this.residual.length),
      residual: this.residualByDatum(),
      data: this.residual.length,
    };
  }

  private residualByDatum(): Float64Array {
    const all = new Float64Array(this.forward.data).fill(Number.NaN);
    for (const [row, datum] of this.present.entries()) all[datum] = this.residual[row]!;
    return all;
  }

  private setModel(xi: Float64Array): void {
    const { m, prior, model } = this;
    for (let i = 0; i < m; i++) {
      let sum = this.priorMean;
      for (let j = 0; j <= i; j++) sum += prior.factor[i * m + j]! * xi[j]!;
      model[i] = sum;
    }
  }

  private normalFactor(): Float64Array {
    const { m, whitened, residual } = this;
    const normal = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      normal[i * m + i] = 1;
      for (let row = 0; row < residual.length; row++) {
        const left = whitened[row * m + i]!;
        for (let j = 0; j <= i; j++) normal[i * m + j]! += left * whitened[row * m + j]!;
      }
      for (let j = 0; j < i; j++) normal[j * m + i] = normal[i * m + j]!;
    }
    return choleskyFactor(normal, m);
  }
}

function inverseOf(factor: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  for (let j = 0; j < m; j++) {
    const unit = new Float64Array(m);
    unit[j] = 1;
    const column = choleskySolve(factor, m, unit);
    for (let i = 0; i < m; i++) inverse[i * m + j] = column[i]!;
  }
  return inverse;
}

function product(left: Float64Array, right: Float64Array, m: number): Float64Array {
  const out = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < m; k++) {
      const factor = left[i * m + k]!;
      if (factor === 0) continue;
      for (let j = 0; j < m; j++) out[i * m + j]! += factor * right[k * m + j]!;
    }
  }
  return out;
}
