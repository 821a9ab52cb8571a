/** Readings over their noise, along r axes of c channels. */
export class AxisView {
  /** r rows over all channels, 0 for those that are not there. */
  private readonly rows: Float64Array;
  private readonly width: number;
  private readonly r: number;
  private readonly row: Float64Array;

  constructor(
    { axes, channels }: { readonly axes: Float64Array; readonly channels: readonly number[] },
    sd: Float64Array,
  ) {
    const c = channels.length;
    this.width = sd.length;
    this.r = axes.length / c;
    this.rows = new Float64Array(this.r * this.width);
    for (const [at, value] of axes.entries()) {
      const d = channels[at % c]!;
      this.rows[Math.floor(at / c) * this.width + d] = value / sd[d]!;
    }
    this.row = new Float64Array(this.r);
  }

  /** Writes r values of the channels' values that begin at an offset; a missing one counts as 0. */
  write(values: ArrayLike<number>, from: number, out: Float64Array | Float32Array): void {
    const { rows, width, r } = this;
    for (let i = 0, at = 0; i < r; i++) {
      let sum = 0;
      for (let d = 0; d < width; d++, at++) {
        const factor = rows[at]!;
        if (factor !== 0) sum += factor * values[from + d]!;
      }
      out[i] = sum;
    }
  }

  /** I + A Gᵀ G Aᵀ of rows of changes G, the lower triangle. */
  covarianceOf(columns: Float64Array, matrix: Float64Array): void {
    const { rows, width, r, row } = this;
    matrix.fill(0);
    for (let i = 0; i < r; i++) matrix[i * r + i] = 1;
    for (let from = 0; from < columns.length; from += width) {
      for (let i = 0, at = 0; i < r; i++) {
        let sum = 0;
        for (let d = 0; d < width; d++) sum += rows[at++]! * columns[from + d]!;
        row[i] = sum;
        for (let j = 0; j <= i; j++) matrix[i * r + j]! += sum * row[j]!;
      }
    }
  }
}
