import { valueAt } from "../../numerics/arrays.js";
import type { LayeredModel } from "../depth-slices.js";
import type { LineDraws } from "../posterior/line-drawer.js";

/** Means, deviations and what the data removed of the prior's variance, layer by layer. */
export function layeredModel(draws: LineDraws): LayeredModel {
  const { columns, top_m, prior } = draws;
  const m = top_m.length;
  const n = draws.effective.length;
  const blank = () => new Float64Array(n * m).fill(Number.NaN);
  const [log10Resistivity, sd, learned] = [blank(), blank(), blank()];
  const before = momentsOf(prior, m).variance;
  for (let i = 0; i < n; i++) {
    const size = draws.draws * m;
    if (Number.isNaN(valueAt(draws.effective, i))) continue;
    const own = columns.subarray(i * size, (i + 1) * size);
    const { mean, variance } = momentsOf(own, m);
    for (let j = 0; j < m; j++) {
      log10Resistivity[i * m + j] = -valueAt(mean, j) / Math.LN10;
      sd[i * m + j] = Math.sqrt(valueAt(variance, j)) / Math.LN10;
      learned[i * m + j] = Math.max(0, 1 - valueAt(variance, j) / valueAt(before, j));
    }
  }
  return { top_m, log10Resistivity, sd, learned };
}

/** Of each layer over rows of m values. */
function momentsOf(rows: Float32Array, m: number) {
  const count = rows.length / m;
  const mean = new Float64Array(m);
  const variance = new Float64Array(m);
  for (let at = 0; at < rows.length; ) {
    for (let j = 0; j < m; j++) mean[j]! += rows[at++]! / count;
  }
  for (let at = 0; at < rows.length; ) {
    for (let j = 0; j < m; j++) variance[j]! += (rows[at++]! - mean[j]!) ** 2 / (count - 1);
  }
  return { mean, variance };
}
