import type { Random } from "../../numerics/random.js";
import { MOST_GROUND } from "../prior/earth-ensemble.js";

/** Random numbers that all stations share, so that a draw is of the whole line. */
export interface CommonNumbers {
  readonly draws: number;
  /** Where the systematic sample of members starts, 0 to 1. */
  readonly start: number;
  /** draws × size normal numbers. */
  readonly normal: Float64Array;
  readonly size: number;
}

/** Numbers for a line's directions and readings; each second draw mirrors the one before. */
export function commonNumbers(
  draws: number,
  { width, walks }: { readonly width: number; readonly walks: number },
  random: Random,
): CommonNumbers {
  const size = MOST_GROUND + walks + width;
  const normal = new Float64Array(draws * size);
  for (let at = 0; at < normal.length; at++) {
    const mirrored = Math.floor(at / size) % 2 === 1;
    normal[at] = mirrored ? -normal[at - size]! : random.normal();
  }
  return { draws, start: random.uniform(), normal, size };
}
