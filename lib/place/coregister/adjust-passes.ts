import { positiveDefinite } from "../../numerics/algebra/dense.js";
import { itemAt } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { median } from "../../numerics/statistics/robust.js";
import type { PassShift } from "./pass-shift.js";

/** Two passes by their numbers, and how far the second lies ahead of the first. */
export interface ShiftedPair {
  readonly one: number;
  readonly other: number;
  readonly found: PassShift;
}

/** Passes that pairs connect. */
export interface ConnectedPasses {
  readonly passes: readonly number[];
  readonly pairs: readonly ShiftedPair[];
}

/** The passes in groups that pairs connect; a pass without a pair is a group by itself. */
export function connectedPasses(
  pairs: readonly ShiftedPair[],
  passes: number,
): readonly ConnectedPasses[] {
  const group = Array.from({ length: passes }, (_, p) => p);
  for (const { one, other } of pairs) {
    const [kept, merged] = [itemAt(group, one), group[other]];
    for (const [p, own] of group.entries()) if (own === merged) group[p] = kept;
  }
  return [...new Set(group)].map((own) => ({
    passes: [...group.keys()].filter((p) => group[p] === own),
    pairs: pairs.filter(({ one }) => group[one] === own),
  }));
}

/** How far each pass of a group lies ahead of their middle at a chainage, by least squares. */
export function adjustPasses({ passes, pairs }: ConnectedPasses) {
  const n = passes.length;
  // The Laplacian of the pairs; 1/n in every entry sets the sum of the leads to 0.
  const matrix = new Float64Array(n * n).fill(1 / n);
  const ends = pairs.map(({ one, other, found }) => {
    const weight = 1 / median(found.shiftSd_m) ** 2;
    const [a, b] = [passes.indexOf(one), passes.indexOf(other)];
    matrix[a * n + a]! += weight;
    matrix[b * n + b]! += weight;
    matrix[a * n + b]! -= weight;
    matrix[b * n + a]! -= weight;
    return { a, b, weight, found };
  });
  const { solve, inverseDiagonal } = positiveDefinite(matrix, n);
  const leadsAt = (chainage_m: number) => {
    const right = new Float64Array(n);
    for (const { a, b, weight, found } of ends) {
      const pull = weight * linearBetween(found.at_m, found.shift_m, chainage_m);
      right[a]! -= pull;
      right[b]! += pull;
    }
    return solve(right);
  };
  return { leadsAt, sd_m: inverseDiagonal().map((value) => Math.sqrt(Math.max(0, value - 1 / n))) };
}
