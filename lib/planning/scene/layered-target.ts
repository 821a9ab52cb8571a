import type { ConductiveEarth } from "../../earth/coil-response.js";
import type { PlanTarget } from "../plan.js";

/** Layer tops, m, rising from 0. */
export function topsOf({ thickness_m }: ConductiveEarth): number[] {
  const tops = [0];
  for (const thickness of Array.from(thickness_m)) tops.push(tops.at(-1)! + thickness);
  return tops;
}

/** Tops at which the ground's natural variation may change, m. */
const FINE_TOPS_M = [0, 0.25, 0.5, 0.8, 1.1, 1.5, 2, 2.6, 3.3, 4.2, 5.5, 7.5, 10, 15, 25, 40];
/** Tops nearer to each other than this are one. */
const SAME_M = 1e-6;

/** The plain earth and the target's without an end, in the same thin layers. */
export interface BothGrounds {
  readonly plain: ConductiveEarth;
  readonly full: ConductiveEarth;
}

export function bothGrounds(earth: ConductiveEarth, target: PlanTarget): BothGrounds {
  if (target.kind === "boundary") {
    const plain = cutEarth(earth, [...FINE_TOPS_M, ...topsOf(target.beyond)]);
    return { plain, full: cutEarth(target.beyond, topsOf(plain)) };
  }
  const plain = cutEarth(earth, [...FINE_TOPS_M, target.top_m, target.base_m]);
  const tops = topsOf(plain);
  const inside = (top: number) => top > target.top_m - SAME_M && top < target.base_m - SAME_M;
  const conductivity_S_per_m = Array.from(plain.conductivity_S_per_m, (sigma, j) =>
    inside(tops[j]!) ? sigma * target.conductivityRatio : sigma,
  );
  return { plain, full: { thickness_m: plain.thickness_m, conductivity_S_per_m } };
}

/** The same earth with boundaries at further depths, so that thin layers vary one by one. */
export function cutEarth(
  earth: ConductiveEarth,
  depths_m: readonly number[] = FINE_TOPS_M,
): ConductiveEarth {
  const old = topsOf(earth);
  const all = [...old, ...depths_m].sort((a, b) => a - b);
  const tops = all.filter((top, i) => i === 0 || top - all[i - 1]! > SAME_M);
  const layerAt = (top: number) => old.filter((one) => one <= top + SAME_M).length - 1;
  return {
    conductivity_S_per_m: tops.map((top) => earth.conductivity_S_per_m[layerAt(top)]!),
    thickness_m: tops.slice(1).map((top, j) => top - tops[j]!),
  };
}
