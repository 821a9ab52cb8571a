import type { DepthSlices } from "../depth/depth-slices.js";

/** True where no slice is reliable by itself. */
export function noneReliable({ slices }: DepthSlices): boolean {
  return !slices.some(({ reliable }) => reliable);
}

/**
 * The slices that are cut: the reliable ones; where none is, all of them, since what leaves a slice
 * in doubt along the whole line (a gain, a zero, the prior) leaves its differences along the line.
 */
export function cuttable(given: DepthSlices): DepthSlices {
  if (!noneReliable(given)) return given;
  return { ...given, slices: given.slices.map((slice) => ({ ...slice, reliable: true })) };
}
