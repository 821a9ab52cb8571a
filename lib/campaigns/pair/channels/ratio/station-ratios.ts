import { sliceWeights } from "../../../../depth/slices/slice-weights.js";
import { choleskyFactor, forwardSolve } from "../../../../numerics/algebra/cholesky.js";
import type { DepthRange } from "../../../ranges.js";
import type { CompareOptions } from "../../options.js";
import type { ExplainedLine } from "../explain/find-changes.js";
import type { ModelInput } from "../line/difference-model.js";
import { meanRow, rowWork } from "../line/robust-fit.js";
import { changeProfiles, profileCovariance } from "./change-profiles.js";

interface Shown {
  readonly slices: readonly DepthRange[];
  readonly used: CompareOptions;
  /** n entries: true where nothing is known. */
  readonly unknown: readonly boolean[];
}

/**
 * For each slice, n values of log10 of later over earlier resistivity and their standard
 * deviations: the moving mean of the channels' difference, explained by the ground. Prior and
 * response are linear and normal here; a stretch that changed has an effect of its own.
 */
export function stationRatios(input: ModelInput, line: ExplainedLine, shown: Shown) {
  const { residual, q, n } = line.model;
  const reach = Math.floor(shown.used.smoothing_m / input.pair.spacing_m / 2);
  const inflation = line.scan.inflationAt(2 * reach + 1);
  const change = new NormalChange(input, line, shown.slices);
  const log10 = shown.slices.map(() => new Float64Array(n).fill(Number.NaN));
  const sd = shown.slices.map(() => new Float64Array(n).fill(Number.NaN));
  const work = rowWork(q);
  for (let i = 0; i < n; i++) {
    if (shown.unknown[i]) continue;
    const last = Math.min(n - 1, i + reach);
    const { row, count } = meanRow({ value: residual, q }, Math.max(0, i - reach), last, work);
    change.explain(i, row, inflation / Math.max(1, count));
    for (const k of shown.slices.keys()) {
      log10[k]![i] = -change.value[k]! / Math.LN10;
      sd[k]![i] = Math.sqrt(change.variance[k]!) / Math.LN10;
    }
  }
  return { log10, sd };
}

/** Posterior means and variances of slices' mean ln conductivity, station by station. */
class NormalChange {
  /** By slice, of the station that was explained last. */
  readonly value: Float64Array;
  readonly variance: Float64Array;
  /** m × m prior covariance of a change. */
  private readonly prior: Float64Array;
  private readonly weights: readonly Float64Array[];
  /** By slice, the prior variance. */
  private readonly own: Float64Array;
  /** q × m, of the channels that are present: what layers do, and the same times the prior. */
  private readonly response: Float64Array;
  private readonly reached: Float64Array;
  private readonly total: Float64Array;
  private readonly present: Int32Array;
  private readonly white: Float64Array;
  private readonly column: Float64Array;

  constructor(
    private readonly input: ModelInput,
    private readonly line: ExplainedLine,
    slices: readonly DepthRange[],
  ) {
    const { top_m } = input.response;
    const [q, m] = [line.model.q, top_m.length];
    this.prior = profileCovariance(changeProfiles(top_m));
    this.weights = sliceWeights(top_m, slices);
    this.own = Float64Array.from(this.weights, (weight) => this.priorVariance(weight));
    [this.value, this.variance] = [new Float64Array(slices.length), this.own.slice()];
    [this.response, this.reached] = [new Float64Array(q * m), new Float64Array(q * m)];
    [this.total, this.present] = [new Float64Array(q * q), new Int32Array(q)];
    [this.white, this.column] = [new Float64Array(q), new Float64Array(q)];
  }

  /** `scale`: variance of the row over that of a station. */
  explain(station: number, row: Float64Array, scale: number): void {
    const { value, variance, weights, white, column, total, own } = this;
    let p = 0;
    for (let c = 0; c < row.length; c++) if (!Number.isNaN(row[c]!)) this.present[p++] = c;
    this.fillResponses(station, p);
    this.factorTotal(p, scale);
    for (let a = 0; a < p; a++) white[a] = row[this.present[a]!]!;
    forwardSolve(total, p, white, white);
    for (const [k, weight] of weights.entries()) {
      this.fillColumn(p, weight);
      forwardSolve(total, p, column, column);
      let sum = 0;
      let explained = 0;
      for (let a = 0; a < p; a++) {
        sum += column[a]! * white[a]!;
        explained += column[a]! * column[a]!;
      }
      value[k] = sum;
      variance[k] = Math.max(1e-8, own[k]! - explained);
    }
  }

  private priorVariance(weight: Float64Array): number {
    const m = weight.length;
    let sum = 0;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) sum += weight[i]! * weight[j]! * this.prior[i * m + j]!;
    }
    return sum;
  }

  /** An inner loop. */
  private fillResponses(station: number, p: number): void {
    const { input, response, reached, prior, present } = this;
    const { byLayer } = input.response;
    const m = input.response.top_m.length;
    const q = this.line.model.q;
    reached.fill(0);
    for (let a = 0; a < p; a++) {
      const at = station * q + present[a]!;
      const noise = input.noise[at]!;
      for (let i = 0; i < m; i++) {
        const own = byLayer[at * m + i]! / noise || 0;
        response[a * m + i] = own;
        for (let j = 0; j < m; j++) reached[a * m + j]! += own * prior[i * m + j]!;
      }
    }
  }

  /** An inner loop: `total` becomes the lower factor of the row's covariance. */
  private factorTotal(p: number, scale: number): void {
    const { response, reached, total, present } = this;
    const { covariance, q } = this.line.model;
    const m = this.input.response.top_m.length;
    for (let a = 0; a < p; a++) {
      for (let b = 0; b <= a; b++) {
        let sum = scale * covariance[present[a]! * q + present[b]!]!;
        for (let j = 0; j < m; j++) sum += reached[a * m + j]! * response[b * m + j]!;
        total[a * p + b] = sum;
      }
    }
    choleskyFactor(total, p, total);
  }

  /** An inner loop. */
  private fillColumn(p: number, weight: Float64Array): void {
    const { column, reached } = this;
    const m = weight.length;
    for (let a = 0; a < p; a++) {
      let sum = 0;
      for (let j = 0; j < m; j++) sum += weight[j]! * reached[a * m + j]!;
      column[a] = sum;
    }
  }
}
