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
  /** K ln weights less half the ln determinants; −Infinity for what is far from all readings. */
  readonly constant: Float64Array;
}

interface Screening {
  /** Channels and ties that are present. */
  readonly channels: readonly number[];
  /** The least and the largest reading of each. */
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly kinds: Float64Array;
}

/** A member further than so many deviations from all readings of a channel is left out. */
const FAR = 5;

/** `sd`: noise of all channels on the reading scale. */
export function memberScreen(
  directions: Directions,
  sd: Float64Array,
  { channels, low, high, kinds }: Screening,
): MemberScreen {
  const order = tellingOrder(directions, sd, channels);
  const c = order.length;
  const { count, logWeight, kind } = directions.ensemble;
  const ofKind = kinds.map(Math.log);
  const half = (c * (c + 1)) / 2;
  const screen = {
    channels: order,
    value: new Float64Array(count * c),
    inverse: new Float32Array(count * half),
    constant: new Float64Array(count),
  };
  const matrix = new Float64Array(c * c);
  const width = directions.channels;
  const isFar = (k: number) =>
    channels.some((d) => {
      const value = directions.responses.value[k * width + d]!;
      const own = directions.spread[(k * width + d) * width + d]!;
      const far = FAR * Math.sqrt(own + sd[d]! ** 2);
      return value < low[d]! - far || value > high[d]! + far;
    });
  for (let k = 0; k < count; k++) {
    screen.constant[k] = Number.NEGATIVE_INFINITY;
    if (isFar(k)) continue;
    fillCovariance(matrix, {
      spread: directions.spread,
      from: k * width * width,
      sd,
      order,
      width,
    });
    let halfLogDeterminant = 0;
    factorInPlace(matrix, c);
    for (let i = 0; i < c; i++) {
      halfLogDeterminant += Math.log(matrix[i * c + i]!);
      screen.value[k * c + i] = directions.responses.value[k * directions.channels + order[i]!]!;
    }
    screen.constant[k] = logWeight[k]! + ofKind[kind[k]!]! - halfLogDeterminant;
    writeInverse(matrix, c, screen.inverse.subarray(k * half, (k + 1) * half));
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
    for (let j = 0; j <= i; j++) matrix[i * c + j] = spread[row + order[j]!]!;
    matrix[i * c + i]! += sd[order[i]!]! ** 2;
  }
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
