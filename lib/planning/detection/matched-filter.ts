import { symmetricEigen } from "../../numerics/symmetric-eigen.js";

/** What c channels show of a target at n stations, and what else moves them. */
export interface Scene {
  /** c × n row by channel: the target's mark, in the channel's unit. */
  readonly signal: readonly Float64Array[];
  /** c standard deviations of a reading's own noise, same unit. */
  readonly noise: ArrayLike<number>;
  /** c × c covariance of the ground's natural variation at one place, same unit squared. */
  readonly ground: Float64Array;
  /** Chainage over which the ground's variation fades to 1/e, in stations. */
  readonly correlation: number;
}

/** What the target changes in that: the ground's variation shows otherwise over it. */
export interface TargetScene extends Scene {
  /** c × m: change of each channel for one standard deviation of each of m independent variations. */
  readonly plain: Float64Array;
  /** The same over the target without an end. */
  readonly full: Float64Array;
  /** c × n: how much of the target each channel has under it at each station. */
  readonly share: readonly Float64Array[];
  /** c × n: noise of a reading there. */
  readonly noiseOver: readonly Float64Array[];
}

/** The best linear test for a target of known shape, its size and the channels' levels unknown. */
export interface MatchedFilter {
  /** Mean of the test with the target there, in its standard deviations without it. */
  readonly detectability: number;
  /** c × n row by channel: the test is Σ weight · reading, of variance 1. */
  readonly weights: readonly Float64Array[];
}

/**
 * The matched filter for a signal in Gaussian noise: independent noise of every reading, the natural
 * variation of the ground (covariance G between channels, e^(−|i − j|/correlation) between
 * stations), and a free level of every channel.
 *
 * Channels over their noise are turned to the eigenvectors of G, after which they are independent;
 * along the line, λ K + I with K⁻¹ tridiagonal is solved in time proportional to n.
 *
 * Source: Kay 1998, Fundamentals of Statistical Signal Processing: Detection Theory, chapter 4
 * (from memory).
 */
export function matchedFilter(scene: Scene): MatchedFilter {
  const c = scene.signal.length;
  const n = scene.signal[0]!.length;
  const noise = scene.noise;
  const scaled = scene.ground.map(
    (value, at) => value / (noise[Math.floor(at / c)]! * noise[at % c]!),
  );
  const { value, vector } = symmetricEigen(scaled, c);
  const weights = scene.signal.map(() => new Float64Array(n));
  let squared = 0;
  for (let k = 0; k < c; k++) {
    const along = new Float64Array(n);
    for (let a = 0; a < c; a++) {
      const factor = vector[a * c + k]! / noise[a]!;
      for (let i = 0; i < n; i++) along[i]! += factor * scene.signal[a]![i]!;
    }
    const filtered = withoutLevel(along, Math.max(0, value[k]!), scene.correlation);
    for (let i = 0; i < n; i++) squared += filtered[i]! * along[i]!;
    for (let a = 0; a < c; a++) {
      const factor = vector[a * c + k]! / noise[a]!;
      for (let i = 0; i < n; i++) weights[a]![i]! += factor * filtered[i]!;
    }
  }
  const detectability = Math.sqrt(Math.max(0, squared));
  if (detectability > 0) {
    return { detectability, weights: weights.map((row) => row.map((w) => w / detectability)) };
  }
  return { detectability, weights };
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
    Float64Array.from(s, (_, i) => diagonal(i) + lambda),
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

/** Standard deviation of a test with the target there; without it, it is 1. */
export function testDeviation(scene: TargetScene, weights: readonly Float64Array[]): number {
  const c = weights.length;
  const n = weights[0]!.length;
  const m = scene.plain.length / c;
  const rho = Math.exp(-1 / scene.correlation);
  let variance = 0;
  for (let k = 0; k < m; k++) {
    let carried = 0;
    for (let i = 0; i < n; i++) {
      let here = 0;
      for (let a = 0; a < c; a++) {
        const plain = scene.plain[a * m + k]!;
        const moved = plain + scene.share[a]![i]! * (scene.full[a * m + k]! - plain);
        here += weights[a]![i]! * moved;
      }
      // Σ_ij ρ^|i−j| h_i h_j, with the sum over earlier stations carried along.
      variance += here * here + 2 * here * carried;
      carried = rho * (carried + here);
    }
  }
  for (let a = 0; a < c; a++) {
    for (let i = 0; i < n; i++) variance += (weights[a]![i]! * scene.noiseOver[a]![i]!) ** 2;
  }
  return Math.sqrt(variance);
}
