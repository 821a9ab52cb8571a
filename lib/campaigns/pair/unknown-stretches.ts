import { firstOf, itemAt, lastOf } from "../../numerics/arrays.js";
import type { ChainageRange } from "../ranges.js";
import type { SharedGround } from "./shared-ground.js";

/** Runs of stations without estimate in either campaign, and what only one campaign covers. */
export function unknownStretches(
  ground: Pick<SharedGround, "chainage_m" | "spacing_m" | "unknown" | "outside">,
): ChainageRange[] {
  const stretches: ChainageRange[] = [...ground.outside];
  for (let i = 0; i < ground.unknown.length; i++) {
    if (!ground.unknown[i]) continue;
    const first = i;
    while (ground.unknown[i + 1]) i++;
    stretches.push(stationRange(ground, first, i));
  }
  return stretches.sort((one, other) => one.from_m - other.from_m);
}

/** The stretch of stations first … last with half a spacing on either side, within the line. */
export function stationRange(
  ground: Pick<SharedGround, "chainage_m" | "spacing_m">,
  first: number,
  last: number,
): ChainageRange {
  const { chainage_m: x, spacing_m } = ground;
  const half = spacing_m / 2;
  return {
    from_m: Math.max(firstOf(x), itemAt(x, first) - half),
    to_m: Math.min(lastOf(x), itemAt(x, last) + half),
  };
}
