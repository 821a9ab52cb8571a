import { makeDepthSlices } from "./depth-slices.js";

/** Levels that change at the given chainages, by slice. */
export function steps(edges_m: readonly number[], levels: readonly number[]) {
  return (x: number) => levels[edges_m.filter((edge) => x >= edge).length]!;
}

export const edges_m = [141, 320, 461, 640];
export const levels = [1.3, 1.75, 1.5, 1.95, 1.5];
/** Five blocks with clear steps between them. */
export const stepped = (seed: number, more = {}) =>
  makeDepthSlices({ seed, truth: steps(edges_m, levels), ...more });
