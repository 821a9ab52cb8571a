import { AxisView } from "./axis-view.js";
import type { Directions } from "./directions.js";
import { type ReadRange, tellingAxes } from "./telling-axes.js";

/**
 * The marginal likelihood of every member under one noise: each member's covariance, I + A Gᵀ G Aᵀ on
 * r axes A of the readings over their noise, is factored once, and a sum of squares is abandoned
 * once it puts the member out of reach.
 */
export interface MemberScreen {
  /** The c channels it goes by. */
  readonly channels: readonly number[];
  /** r × c axes. */
  readonly axes: Float64Array;
  /** Members that are not far from all readings, in their order; by their places here: */
  readonly members: Int32Array;
  /** r values along the axes. */
  readonly value: Float32Array;
  /** r (r + 1) / 2 of the inverse factor. */
  readonly inverse: Float32Array;
  /** ln weight less half the ln determinant. */
  readonly constant: Float64Array;
}

interface Screening extends ReadRange {
  readonly kinds: Float64Array;
}

/** A member further than so many deviations from all readings of a channel is left out. */
const FAR = 5;

/** `sd`: noise of all channels on the reading scale. */
export function memberScreen(
  directions: Directions,
  sd: Float64Array,
  screening: Screening,
): MemberScreen {
  const { channels, kinds } = screening;
  const { count, logWeight, kind } = directions.ensemble;
  const width = directions.channels;
  const axes = tellingAxes(directions, sd, screening);
  const ofKind = kinds.map(Math.log);
  const r = axes.length / channels.length;
  const half = (r * (r + 1)) / 2;
  const members: number[] = [];
  const value = new Float32Array(count * r);
  const inverse = new Float32Array(count * half);
  const constant = new Float64Array(count);
  const matrix = new Float64Array(r * r);
  const along = new AxisView({ axes, channels }, sd);
  for (let k = 0; k < count; k++) {
    const columns = directions.columns(k);
    if (isFar(directions.responses.value.subarray(k * width), columns, { ...screening, sd })) {
      continue;
    }
    along.covarianceOf(columns, matrix);
    factorInPlace(matrix, r);
    const at = members.length;
    along.write(directions.responses.value, k * width, value.subarray(at * r));
    constant[at] = logWeight[k]! + ofKind[kind[k]!]!;
    for (let i = 0; i < r; i++) constant[at]! -= Math.log(matrix[i * r + i]!);
    writeInverse(matrix, r, inverse.subarray(at * half));
    members.push(k);
  }
  return { channels, axes, members: Int32Array.from(members), value, inverse, constant };
}

function isFar(
  value: Float32Array,
  columns: Float64Array,
  { channels, low, high, sd }: ReadRange & { readonly sd: Float64Array },
): boolean {
  const width = sd.length;
  for (const d of channels) {
    const one = value[d]!;
    if (one >= low[d]! && one <= high[d]!) continue;
    let own = sd[d]! ** 2;
    for (let at = d; at < columns.length; at += width) own += columns[at]! ** 2;
    const far = FAR * Math.sqrt(own);
    if (one < low[d]! - far || one > high[d]! + far) return true;
  }
  return false;
}

/** The lower factor of a positive definite matrix over its lower triangle. */
function factorInPlace(matrix: Float64Array, c: number): void {
  for (let i = 0; i < c; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * c + j]!;
      for (let l = 0; l < j; l++) sum -= matrix[i * c + l]! * matrix[j * c + l]!;
      matrix[i * c + j] = i === j ? Math.sqrt(sum) : sum / matrix[j * c + j]!;
    }
  }
}

/** The inverse of a lower factor, packed row by row. */
function writeInverse(factor: Float64Array, c: number, out: Float32Array): void {
  for (let j = 0; j < c; j++) {
    for (let i = j; i < c; i++) {
      let sum = i === j ? 1 : 0;
      for (let l = j; l < i; l++) sum -= factor[i * c + l]! * out[(l * (l + 1)) / 2 + j]!;
      out[(i * (i + 1)) / 2 + j] = sum / factor[i * c + i]!;
    }
  }
}
