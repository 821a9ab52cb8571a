import { factorBanded } from "../../numerics/algebra/banded.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import type { CellGraph } from "./cell-graph.js";
import { priorPrecision } from "./gaussian-posterior.js";

const GRID = { from: -8, to: 4, step: 0.25 } as const;

/** ln det of a prior's precision by the logarithm of the ratio of its variances, off a table. */
export function priorDeterminant(
  graph: CellGraph,
  bond: Float64Array,
  anchor: Float64Array,
): (logRatio: number) => number {
  const at: number[] = [];
  const values: number[] = [];
  for (let log = GRID.from; log <= GRID.to; log += GRID.step) {
    const variance = [Math.exp(log), 1] as const;
    const weight = bond.map((share, f) => share / (variance[graph.kind[f]!]! * graph.spread[f]!));
    const matrix = priorPrecision(graph, weight, anchor);
    factorBanded(matrix);
    const { halfBandwidth: b, lower, size } = matrix;
    let sum = 0;
    for (let i = 0; i < size; i++) sum += 2 * Math.log(lower[i * (b + 1) + b]!);
    at.push(log);
    values.push(sum);
  }
  return (log) => linearBetween(at, values, log);
}
