import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import type { AxisView } from "./axis-view.js";
import type { ChangeRows } from "./directions.js";

/** Lengths of the columns of the kernels' memory that `CovarianceAlong` works in, for so many rows. */
export function covarianceRoom({ r, width }: AxisView, rows: number): readonly number[] {
  return [width * passes(r), rows * passes(r), r * passes(r)];
}

/** Covariances along r axes, in the kernels' memory. */
export class CovarianceAlong {
  /** r × r, rows `wide` apart; above the diagonal stands nothing of meaning. */
  readonly matrix: Float64Array;
  readonly wide: number;
  private readonly axes: Float64Array;
  private readonly along: Float64Array;

  constructor(
    private readonly view: AxisView,
    [axes, along, matrix]: readonly [Float64Array, Float64Array, Float64Array],
  ) {
    const { r, width, rows } = view;
    this.wide = passes(r);
    [this.axes, this.along, this.matrix] = [axes, along, matrix];
    axes.fill(0);
    for (let i = 0; i < r; i++) {
      for (let d = 0; d < width; d++) axes[d * this.wide + i] = rows[i * width + d]!;
    }
  }

  /** I + A Gᵀ G Aᵀ of so many rows of changes G, along axes A. */
  of({ rows, wide }: ChangeRows, count: number): Float64Array {
    const { matrix, axes, along } = this;
    const { r, width } = this.view;
    const { run } = vectorKernels();
    const row = 8 * this.wide;
    along.fill(0, 0, count * this.wide);
    run.addMultiples(
      ...[along.byteOffset, row, rows.byteOffset, 8, 8 * wide],
      ...[axes.byteOffset, row, width, count, 8 * r, 0],
    );
    matrix.fill(0);
    for (let i = 0; i < r; i++) matrix[i * this.wide + i] = 1;
    run.addMultiples(
      ...[matrix.byteOffset, row, along.byteOffset, row, 8],
      ...[along.byteOffset, row, count, r, 8, 8],
    );
    return matrix;
  }
}
