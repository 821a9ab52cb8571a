import { sortedQuantile } from "../../numerics/statistics/robust.js";

/** Of ln ρ of each cell over posterior draws. */
export interface CellStatistics {
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  readonly p10: Float64Array;
  readonly p50: Float64Array;
  readonly p90: Float64Array;
}

export function cellStatistics(draws: readonly Float64Array[]): CellStatistics {
  const cells = draws[0]?.length ?? 0;
  const [mean, sd] = [new Float64Array(cells), new Float64Array(cells)];
  const [p10, p50, p90] = [0, 1, 2].map(() => new Float64Array(cells)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let c = 0; c < cells; c++) {
    const values = Float64Array.from(draws, (draw) => draw[c]!).sort();
    const middle = values.reduce((sum, value) => sum + value, 0) / values.length;
    const square = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
    mean[c] = middle;
    sd[c] = Math.sqrt(square / (values.length - 1));
    p10[c] = sortedQuantile(values, 0.1);
    p50[c] = sortedQuantile(values, 0.5);
    p90[c] = sortedQuantile(values, 0.9);
  }
  return { mean, sd, p10, p50, p90 };
}
