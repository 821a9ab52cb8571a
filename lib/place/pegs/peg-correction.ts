import { firstOf } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { median } from "../../numerics/statistics/robust.js";
import { isPlausible, type PegCheck } from "./peg-checks.js";

/** Pegs nearer to each other than this, m, are one. */
const SAME_PEG_M = 5;

/**
 * The correction that brings measured chainages to the pegs: linear from peg to peg, and beyond the
 * outermost that of the nearest. Null without a plausible peg.
 */
export function pegCorrection(pegs: readonly PegCheck[]): ((chainage_m: number) => number) | null {
  const sorted = pegs.filter(isPlausible).sort((a, b) => a.measured_m - b.measured_m);
  const groups: PegCheck[][] = [];
  for (const peg of sorted) {
    const last = groups.at(-1);
    const isSame = last && peg.measured_m - firstOf(last).measured_m <= SAME_PEG_M;
    if (isSame) last.push(peg);
    else groups.push([peg]);
  }
  if (groups.length === 0) return null;
  const x = groups.map((group) => median(group.map((peg) => peg.measured_m)));
  const off = groups.map((group) => median(group.map((peg) => peg.stated_m - peg.measured_m)));
  return (chainage_m) => linearBetween(x, off, chainage_m);
}
