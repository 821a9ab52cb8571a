import { symmetricEigen } from "../../numerics/algebra/dense.js";
import { dot } from "../../numerics/algebra/dot.js";
import { firstOf } from "../../numerics/arrays.js";

/** What channels show of a target at n stations, and what else moves them. */
export interface Scene {
  readonly channels: readonly SceneChannel[];
  /** c × c covariance of the ground's natural variation at one place, units squared. */
  readonly ground: Float64Array;
  /** Chainage over which the ground's variation fades to 1/e, in stations. */
  readonly correlation: number;
}

export interface SceneChannel {
  /** n values of the target's mark, in the channel's unit. */
  readonly signal: Float64Array;
  /** Standard deviation of a reading's own noise, same unit. */
  readonly noise: number;
}

/** The best linear test for a target of known shape, its size and the channels' levels unknown. */
export interface MatchedFilter {
  /** Mean of the test with the target there, in its standard deviations without it. */
  readonly detectability: number;
  /** c × n row by channel: the test is Σ weight · reading, of variance 1. */
  readonly weights: readonly Float64Array[];
}

/**
 * The matched filter for a signal in Gaussian noise: independent noise of every reading, the
 * natural variation of the ground (covariance G between channels, e^(−|i − j|/correlation) between
 * stations), and a free level of every channel.
 *
 * Channels over their noise are turned to the eigenvectors of G, after which they are independent;
 * along the line, λ K + I with K⁻¹ tridiagonal is solved in time proportional to n.
 *
 * Source: Kay 1998, Fundamentals of Statistical Signal Processing: Detection Theory, chapter 4
 * (from memory).
 */
export function matchedFilter({ channels, ground, correlation }: Scene): MatchedFilter {
  const c = channels.length;
  const n = firstOf(channels).signal.length;
  const scaled = Float64Array.from(
    channels.flatMap((one, a) =>
      channels.map((other, b) => ground[a * c + b]! / (one.noise * other.noise)),
    ),
  );
  const { value, vector } = symmetricEigen(scaled, c);
  const weights = channels.map(() => new Float64Array(n));
  let squared = 0;
  for (const [k, lambda] of value.entries()) {
    const factor = channels.map(({ noise }, a) => vector[a * c + k]! / noise);
    const along = new Float64Array(n);
    for (const [a, { signal }] of channels.entries()) addTimes(along, signal, factor[a]!);
    const filtered = withoutLevel(along, Math.max(0, lambda), correlation);
    squared += dot(filtered, along);
    for (const [a, row] of weights.entries()) addTimes(row, filtered, factor[a]!);
  }
  const detectability = Math.sqrt(Math.max(0, squared));
  if (detectability === 0) return { detectability, weights };
  return { detectability, weights: weights.map((row) => row.map((w) => w / detectability)) };
}

function addTimes(to: Float64Array, values: Float64Array, factor: number): void {
  for (let i = 0; i < to.length; i++) to[i]! += factor * values[i]!;
}

/** (λK + I)⁻¹ s, less what a constant explains of it. */
function withoutLevel(s: Float64Array, lambda: number, correlation: number): Float64Array {
  const filtered = inverseTimes(s, lambda, correlation);
  const level = inverseTimes(new Float64Array(s.length).fill(1), lambda, correlation);
  const total = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0);
  const share = total(filtered) / total(level);
  return filtered.map((value, i) => value - share * level[i]!);
}

/** x of (λK + I) x = s, K = ρ^|i−j|: (λI + T) x = T s with T = K⁻¹ tridiagonal. */
function inverseTimes(s: Float64Array, lambda: number, correlation: number): Float64Array {
  const n = s.length;
  const rho = correlation > 0 ? Math.exp(-1 / correlation) : 0;
  const off = -rho / (1 - rho * rho);
  const end = 1 / (1 - rho * rho);
  const middle = (1 + rho * rho) / (1 - rho * rho);
  const diagonal = (i: number) => (n === 1 ? 1 : i === 0 || i === n - 1 ? end : middle);
  const right = s.map(
    (value, i) => diagonal(i) * value + off * ((s[i - 1] ?? 0) + (s[i + 1] ?? 0)),
  );
  return tridiagonalSolve(
    s.map((_, i) => diagonal(i) + lambda),
    off,
    right,
  );
}

/** Thomas's algorithm with one off-diagonal value; `right` is overwritten with x. */
function tridiagonalSolve(diagonal: Float64Array, off: number, right: Float64Array): Float64Array {
  const n = right.length;
  for (let i = 1; i < n; i++) {
    const factor = off / diagonal[i - 1]!;
    diagonal[i]! -= factor * off;
    right[i]! -= factor * right[i - 1]!;
  }
  right[n - 1] = right[n - 1]! / diagonal[n - 1]!;
  for (let i = n - 2; i >= 0; i--) right[i] = (right[i]! - off * right[i + 1]!) / diagonal[i]!;
  return right;
}
