import { choleskyFactor } from "../../../numerics/algebra/cholesky.js";
import type { Directions } from "./directions.js";
import { tellingOrder } from "./telling-order.js";

/**
 * The marginal likelihood of every member under one noise: each member's covariance R + G Gᵀ is
 * factored once, and a sum of squares is abandoned once it puts the member out of reach.
 */
export interface MemberScreen {
  /** The channels it goes by, in its own order: those that tell members apart first. */
  readonly channels: Int32Array;
  /** K × c values in that order. */
  readonly value: Float64Array;
  /** K × c (c + 1) / 2 inverse factors. */
  readonly inverse: Float32Array;
  /** K ln weights less half the ln determinants. */
  readonly constant: Float64Array;
}

/** `sd`: noise of all channels on the reading scale; `channels`: those present. */
export function memberScreen(
  directions: Directions,
  sd: Float64Array,
  channels: readonly number[],
): MemberScreen {
  const order = tellingOrder(directions, sd, channels);
  const c = order.length;
  const { count, logWeight } = directions.ensemble;
  const half = (c * (c + 1)) / 2;
  const screen = {
    channels: order,
    value: new Float64Array(count * c),
    inverse: new Float32Array(count * half),
    constant: new Float64Array(count),
  };
  const matrix = new Float64Array(c * c);
  const width = directions.channels;
  for (let k = 0; k < count; k++) {
    fillCovariance(matrix, {
      spread: directions.spread,
      from: k * width * width,
      sd,
      order,
      width,
    });
    const factor = choleskyFactor(matrix, c);
    let halfLogDeterminant = 0;
    for (let i = 0; i < c; i++) {
      halfLogDeterminant += Math.log(factor[i * c + i]!);
      screen.value[k * c + i] = directions.responses.value[k * directions.channels + order[i]!]!;
    }
    screen.constant[k] = logWeight[k]! - halfLogDeterminant;
    writeInverse(factor, c, screen.inverse.subarray(k * half, (k + 1) * half));
  }
  return screen;
}

interface CovarianceParts {
  /** K × c × c covariances of the responses over the directions. */
  readonly spread: Float32Array;
  readonly from: number;
  readonly sd: Float64Array;
  readonly order: Int32Array;
  readonly width: number;
}

function fillCovariance(matrix: Float64Array, parts: CovarianceParts): void {
  const { spread, from, sd, order, width } = parts;
  const c = order.length;
  for (let i = 0; i < c; i++) {
    const row = from + order[i]! * width;
    for (let j = 0; j < c; j++) matrix[i * c + j] = spread[row + order[j]!]!;
    matrix[i * c + i]! += sd[order[i]!]! ** 2;
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
