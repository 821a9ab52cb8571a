import type { CoilGeometry } from "../../earth/coil-quadrature.js";
import { cumulativeResponse } from "../../earth/half-space.js";

/** Of all that a coil pair sees, the share from below under which depths are not told. */
const LEAST_SHARE = 0.25;

/**
 * The depth below which the pair that sees deepest has a quarter of its low-induction response from
 * even ground, m. What lies deeper may be known from the layers above it and the prior only. Source:
 * cumulated sensitivity, Christiansen & Auken 2012, Geophysics 77(4), WB171–WB177; the share is ours.
 */
export function reach_m(pairs: readonly CoilGeometry[]): number {
  return Math.max(0, ...pairs.map(reachOf));
}

function reachOf({ orientation, separation_m, height_m }: CoilGeometry): number {
  const share = (depth_m: number) =>
    cumulativeResponse(orientation, (depth_m + height_m) / separation_m);
  const least = LEAST_SHARE * share(0);
  let [above, below] = [0, 20 * separation_m];
  for (let round = 0; round < 40; round++) {
    const middle = (above + below) / 2;
    if (share(middle) > least) above = middle;
    else below = middle;
  }
  return above;
}
