import { median, sortedQuantile } from "../../numerics/statistics/robust.js";

/** Draws of stations' columns: s × draws × m ln conductivities on a grid of m tops. */
export interface ColumnDraws {
  readonly columns: Float32Array;
  readonly draws: number;
  readonly top_m: Float64Array;
}

/** Median over stations of the deviations of slices' means, log10. */
export class SliceSpreads {
  /** For each draw and each top of the grid the integral of ln conductivity above it. */
  private readonly sums: Float64Array;
  /** The same of conductivity. */
  private readonly conductances: Float64Array;
  private readonly stations: number;
  private readonly kept = new Map<string, number>();

  constructor(private readonly draws: ColumnDraws) {
    const { columns, top_m } = draws;
    const m = top_m.length;
    const rows = columns.length / m;
    this.stations = rows / draws.draws;
    this.sums = new Float64Array(rows * m);
    this.conductances = new Float64Array(rows * m);
    for (let row = 0; row < rows; row++) {
      for (let j = 1; j < m; j++) {
        const t = top_m[j]! - top_m[j - 1]!;
        const ln = columns[row * m + j - 1]!;
        this.sums[row * m + j] = this.sums[row * m + j - 1]! + t * ln;
        this.conductances[row * m + j] = this.conductances[row * m + j - 1]! + t * Math.exp(ln);
      }
    }
  }

  of(a: number, b: number): number {
    const key = `${a} ${b}`;
    const known = this.kept.get(key) ?? this.median((row) => this.mean(row, a, b));
    this.kept.set(key, known);
    return known;
  }

  /**
   * Median over stations of log10 of the slice's conductance, which coils respond to, over that of
   * its mean log conductivity: 0 in even ground. Where it is large, the mean log resistivity rests
   * on the prior of the contrast within.
   */
  unevenness(a: number, b: number): number {
    const m = this.draws.top_m.length;
    const thick_m = this.draws.top_m[b]! - this.draws.top_m[a]!;
    const means = Array.from({ length: this.stations }, (_, i) => {
      let sum = 0;
      for (let row = i * this.draws.draws; row < (i + 1) * this.draws.draws; row++) {
        const conductance = this.conductances[row * m + b]! - this.conductances[row * m + a]!;
        sum += Math.log(conductance / thick_m) - this.mean(row, a, b);
      }
      return sum / (this.draws.draws * Math.LN10);
    });
    return median(means);
  }

  /** Median over stations of the wider side of the 80 % interval about its middle over the other. */
  skewness(a: number, b: number): number {
    const { draws } = this.draws;
    return median(
      Float64Array.from({ length: this.stations }, (_, i) => {
        const values = Float64Array.from({ length: draws }, (_, k) =>
          this.mean(i * draws + k, a, b),
        ).sort();
        const at = (p: number) => sortedQuantile(values, p);
        const ratio = (at(0.9) - at(0.5)) / (at(0.5) - at(0.1));
        return Math.max(ratio, 1 / ratio);
      }),
    );
  }

  private mean(row: number, a: number, b: number): number {
    const { top_m } = this.draws;
    const at = row * top_m.length;
    return (this.sums[at + b]! - this.sums[at + a]!) / (top_m[b]! - top_m[a]!);
  }

  private median(meanOf: (row: number) => number): number {
    const { draws } = this.draws;
    const sds: number[] = [];
    for (let i = 0; i < this.stations; i++) {
      let sum = 0;
      let squares = 0;
      for (let k = 0; k < draws; k++) {
        const value = meanOf(i * draws + k);
        sum += value;
        squares += value * value;
      }
      const variance = (squares - (sum * sum) / draws) / (draws - 1);
      if (!Number.isNaN(variance)) sds.push(Math.sqrt(Math.max(0, variance)) / Math.LN10);
    }
    return median(sds);
  }
}
