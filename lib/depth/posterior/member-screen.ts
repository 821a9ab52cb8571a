import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import { AxisView } from "./axis-view.js";
import { CovarianceAlong, covarianceRoom } from "./covariance-along.js";
import { ChangeRows, changeRoom, type Directions } from "./directions.js";
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
  const { value: values } = directions.responses;
  const axes = tellingAxes(directions, sd, screening);
  const ofKind = kinds.map(Math.log);
  const view = new AxisView({ axes, channels }, sd);
  const { r, width } = view;
  const half = (r * (r + 1)) / 2;
  const members: number[] = [];
  const value = new Float32Array(count * r);
  const inverse = new Float32Array(count * half);
  const constant = new Float64Array(count);
  const { changes, covariance } = roomFor(directions, view);
  const reach = { ...screening, sd };
  for (let k = 0; k < count; k++) {
    const q = changes.write(k);
    if (isFar(values, k * width, { ...reach, changes, q })) continue;
    const matrix = covariance.of(changes, q);
    const { wide } = covariance;
    factorInPlace(matrix, r, wide);
    const at = members.length;
    view.write(values, k * width, value, at * r);
    constant[at] = logWeight[k]! + ofKind[kind[k]!]!;
    for (let i = 0; i < r; i++) constant[at]! -= Math.log(matrix[i * wide + i]!);
    writeInverse({ factor: matrix, wide, r }, inverse, at * half);
    members.push(k);
  }
  return { channels, axes, members: Int32Array.from(members), value, inverse, constant };
}

function roomFor(directions: Directions, view: AxisView) {
  const own = changeRoom(directions);
  const rows = own[0]! / passes(view.width);
  const [a, b, c, d, e, f] = vectorKernels().columns(...own, ...covarianceRoom(view, rows));
  const changes = new ChangeRows(directions, [a!, b!, c!]);
  return { changes, covariance: new CovarianceAlong(view, [d!, e!, f!]) };
}

interface Reach extends ReadRange {
  readonly sd: Float64Array;
  readonly changes: ChangeRows;
  readonly q: number;
}

/** `from`: where the member's values begin. */
function isFar(
  values: Float32Array,
  from: number,
  { channels, low, high, sd, changes, q }: Reach,
): boolean {
  const { rows, wide } = changes;
  for (const d of channels) {
    const one = values[from + d]!;
    if (one >= low[d]! && one <= high[d]!) continue;
    let own = sd[d]! ** 2;
    for (let at = d; at < q * wide; at += wide) own += rows[at]! ** 2;
    const far = FAR * Math.sqrt(own);
    if (one < low[d]! - far || one > high[d]! + far) return true;
  }
  return false;
}

/** The lower factor of a positive definite matrix, rows `wide` apart, over its lower triangle. */
function factorInPlace(matrix: Float64Array, r: number, wide: number): void {
  for (let i = 0; i < r; i++) {
    const row = i * wide;
    for (let j = 0; j <= i; j++) {
      const other = j * wide;
      let sum = matrix[row + j]!;
      for (let l = 0; l < j; l++) sum -= matrix[row + l]! * matrix[other + l]!;
      matrix[row + j] = i === j ? Math.sqrt(sum) : sum / matrix[other + j]!;
    }
  }
}

/** The inverse of a lower factor of r rows, packed row by row from an offset on. */
function writeInverse(
  { factor, wide, r }: { readonly factor: Float64Array; readonly wide: number; readonly r: number },
  out: Float32Array,
  from: number,
): void {
  for (let j = 0; j < r; j++) {
    for (let i = j; i < r; i++) {
      const row = i * wide;
      let sum = i === j ? 1 : 0;
      for (let l = j; l < i; l++) sum -= factor[row + l]! * out[from + (l * (l + 1)) / 2 + j]!;
      out[from + (i * (i + 1)) / 2 + j] = sum / factor[row + i]!;
    }
  }
}
