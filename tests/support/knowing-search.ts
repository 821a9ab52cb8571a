// A search for steps that is told the noise, the texture and how columns go together: what any
// method can at best come near. Dense algebra, nothing shared with lib/blocks.
import { NOISE, SPACING_M, TEXTURE } from "./ground-lines.js";

/** Share of the texture's variance that the columns have in common, as in `makeDepthSlices`. */
const SHARED = 0.5;

export interface KnowingOptions {
  readonly reach_m: number;
  readonly minLength: number;
}

/**
 * Breaks by adding the step that explains most and dropping what is not worth 2 ln n for its place
 * and ln(1 + information) for its size in each column, places moved to the best in between.
 */
export function knowingSearch(
  columns: readonly Float64Array[],
  { reach_m, minLength }: KnowingOptions,
): readonly number[] {
  const n = columns[0]!.length;
  const parts = turned(columns).map(({ column, texture }) => {
    const root = correlationRoot(n, texture, reach_m);
    const steps = Array.from({ length: n }, (_, s) => {
      return lowerSolve(
        root,
        Float64Array.from({ length: n }, (_, i) => (i >= s ? 1 : 0)),
      );
    });
    return { y: lowerSolve(root, column), steps };
  });
  const price = 2 * Math.log(n);
  const costOf = (breaks: readonly number[]) =>
    parts.reduce((sum, part) => sum + partCost(part, breaks), price * breaks.length);
  const open = (s: number, breaks: readonly number[]) =>
    s >= minLength && s <= n - minLength && breaks.every((one) => Math.abs(one - s) >= minLength);
  let breaks: readonly number[] = [];
  let cost = costOf(breaks);
  for (;;) {
    const tries: (readonly number[])[] = breaks.map((one) => breaks.filter((b) => b !== one));
    for (let s = minLength; s <= n - minLength; s++) {
      if (open(s, breaks)) tries.push([...breaks, s].sort((a, b) => a - b));
    }
    for (const one of breaks) {
      const others = breaks.filter((b) => b !== one);
      for (let s = one - 5; s <= one + 5; s++) {
        if (s !== one && open(s, others)) tries.push([...others, s].sort((a, b) => a - b));
      }
    }
    const costs = tries.map(costOf);
    const least = Math.min(...costs);
    if (!(least < cost - 1e-9)) return breaks;
    breaks = tries[costs.indexOf(least)]!;
    cost = least;
  }
}

/** Mean of the columns and contrasts of them, which do not share texture; of unit norm. */
function turned(columns: readonly Float64Array[]) {
  const d = columns.length;
  return columns.map((_, k) => {
    const shares = columns.map((_, c) => {
      if (k === 0) return 1 / Math.sqrt(d);
      return c < k ? 1 / Math.sqrt(k * (k + 1)) : c === k ? -k / Math.sqrt(k * (k + 1)) : 0;
    });
    const column = columns[0]!.map((_, i) =>
      shares.reduce((sum, share, c) => sum + share * columns[c]![i]!, 0),
    );
    const texture = TEXTURE ** 2 * (k === 0 ? 1 + (d - 1) * SHARED : 1 - SHARED);
    return { column, texture };
  });
}

function correlationRoot(n: number, texture: number, reach_m: number): Float64Array[] {
  const root: Float64Array[] = [];
  for (let i = 0; i < n; i++) {
    const row = new Float64Array(i + 1);
    for (let j = 0; j <= i; j++) {
      let sum = texture * Math.exp((-SPACING_M * (i - j)) / reach_m) + (i === j ? NOISE ** 2 : 0);
      const other = j === i ? row : root[j]!;
      for (let k = 0; k < j; k++) sum -= row[k]! * other[k]!;
      row[j] = i === j ? Math.sqrt(sum) : sum / other[j]!;
    }
    root.push(row);
  }
  return root;
}

function lowerSolve(root: readonly Float64Array[], right: Float64Array): Float64Array {
  const x = new Float64Array(right.length);
  for (const [i, row] of root.entries()) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= row[k]! * x[k]!;
    x[i] = sum / row[i]!;
  }
  return x;
}

interface Part {
  readonly y: Float64Array;
  readonly steps: readonly Float64Array[];
}

/** Least squares by Gram and Schmidt: what is left, and the logarithms of the information. */
function partCost({ y, steps }: Part, breaks: readonly number[]): number {
  const basis: Float64Array[] = [];
  let left = dot(y, y);
  let information = 0;
  for (const s of [0, ...breaks]) {
    const rest = steps[s]!.slice();
    for (const axis of basis) {
      const along = dot(axis, rest);
      for (let i = 0; i < rest.length; i++) rest[i]! -= along * axis[i]!;
    }
    const square = dot(rest, rest);
    // Sizes are told in units of the scatter, noise and texture together.
    if (s > 0) information += Math.log1p(square * (TEXTURE ** 2 + NOISE ** 2));
    const axis = rest.map((one) => one / Math.sqrt(square));
    left -= dot(axis, y) ** 2;
    basis.push(axis);
  }
  return left + information;
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i]! * other[i]!;
  return sum;
}
