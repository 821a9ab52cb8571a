/** Readings over their noise, along r axes of c channels. */
export class AxisView {
  /** r rows over all channels, 0 for those that are not there. */
  readonly rows: Float64Array;
  readonly width: number;
  readonly r: number;

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
  }

  /** Writes r values of the channels' values that begin at an offset; a missing one counts as 0. */
  write(
    values: ArrayLike<number>,
    from: number,
    out: Float64Array | Float32Array,
    outFrom = 0,
  ): void {
    const { rows, width, r } = this;
    for (let i = 0, at = 0; i < r; i++) {
      let sum = 0;
      for (let d = 0; d < width; d++, at++) {
        const factor = rows[at]!;
        if (factor !== 0) sum += factor * values[from + d]!;
      }
      out[outFrom + i] = sum;
    }
  }
}
