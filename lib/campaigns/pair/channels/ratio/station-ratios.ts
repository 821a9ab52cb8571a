import { sliceWeights } from "../../../../depth/slices/slice-weights.js";
import { choleskyFactor, forwardSolve } from "../../../../numerics/algebra/cholesky.js";
import type { DepthRange } from "../../../ranges.js";
import type { CompareOptions } from "../../options.js";
import type { ExplainedLine } from "../explain/find-changes.js";
import type { ModelInput } from "../line/difference-model.js";
import { meanRow } from "../line/robust-fit.js";

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
  const { top_m } = input.response;
  const { residual, q, n } = line.model;
  const prior = profileCovariance(changeProfiles(top_m));
  const weights = sliceWeights(top_m, shown.slices);
  const reach = Math.floor(shown.used.smoothing_m / input.pair.spacing_m / 2);
  const inflation = line.scan.inflationAt(2 * reach + 1);
  const log10 = shown.slices.map(() => new Float64Array(n).fill(Number.NaN));
  const sd = shown.slices.map(() => new Float64Array(n).fill(Number.NaN));
  for (let i = 0; i < n; i++) {
    if (shown.unknown[i]) continue;
    const mean = meanRow(
      { value: residual, q },
      Math.max(0, i - reach),
      Math.min(n - 1, i + reach),
    );
    const index = Int32Array.from(mean.row.keys()).filter((c) => !Number.isNaN(mean.row[c]!));
    const scale = inflation / Math.max(1, mean.count);
    const here = normalChange({ input, line, prior, index, station: i, row: mean.row, scale });
    for (const [k, weight] of weights.entries()) {
      const { value, variance } = here(weight);
      log10[k]![i] = -value / Math.LN10;
      sd[k]![i] = Math.sqrt(variance) / Math.LN10;
    }
  }
  return { log10, sd };
}

interface Station {
  readonly input: ModelInput;
  readonly line: ExplainedLine;
  /** m × m prior covariance of a change. */
  readonly prior: Float64Array;
  readonly index: Int32Array;
  readonly station: number;
  readonly row: Float64Array;
  /** Variance of the row over that of a station. */
  readonly scale: number;
}

/** Posterior mean and variance of a weighted sum of layers' ln conductivity. */
function normalChange({ input, line, prior, index, station, row, scale }: Station) {
  const { byLayer, top_m } = input.response;
  const { q, covariance } = line.model;
  const [p, m] = [index.length, top_m.length];
  const response = new Float64Array(p * m);
  for (let a = 0; a < p; a++) {
    const at = station * q + index[a]!;
    for (let j = 0; j < m; j++) response[a * m + j] = byLayer[at * m + j]! / input.noise[at]! || 0;
  }
  const reached = new Float64Array(p * m);
  for (let a = 0; a < p; a++) {
    for (let i = 0; i < m; i++) {
      const own = response[a * m + i]!;
      for (let j = 0; j < m; j++) reached[a * m + j]! += own * prior[i * m + j]!;
    }
  }
  const total = new Float64Array(p * p);
  for (let a = 0; a < p; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = scale * covariance[index[a]! * q + index[b]!]!;
      for (let j = 0; j < m; j++) sum += reached[a * m + j]! * response[b * m + j]!;
      total[a * p + b] = sum;
    }
  }
  const factor = choleskyFactor(total, p);
  const y = forwardSolve(
    factor,
    p,
    Float64Array.from(index, (c) => row[c]!),
  );
  return (weight: Float64Array) => {
    const column = Float64Array.from({ length: p }, (_, a) =>
      weight.reduce((sum, w, j) => sum + w * reached[a * m + j]!, 0),
    );
    const white = forwardSolve(factor, p, column);
    let own = 0;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) own += weight[i]! * weight[j]! * prior[i * m + j]!;
    }
    const value = white.reduce((sum, w, a) => sum + w * y[a]!, 0);
    const explained = white.reduce((sum, w) => sum + w * w, 0);
    return { value, variance: Math.max(1e-8, own - explained) };
  };
}
