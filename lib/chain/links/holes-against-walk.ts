import type { DepthSlices } from "../../depth/depth-slices.js";
import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { type SliceAtBorehole, slicesAtBoreholes } from "../../seepage/pervious-threshold.js";
import { listText } from "../../step/list-text.js";
import { significantText } from "../../step/number-text.js";
import type { Borehole } from "../../survey/borehole.js";

/** Coarse ground that reads so many times less than fine ground is the wrong way round. */
const WRONG_WAY = 1.4;

/**
 * Boreholes whose coarse ground the walk finds the more conductive one, as a sentence; null where
 * they go together, or where they hold one kind of ground only.
 */
export function holesAgainstWalk(
  given: DepthSlices,
  boreholes: readonly Borehole[],
): string | null {
  const bounded = given.slices.flatMap((slice, k) =>
    slice.reliable || (slice.bounded ?? "neither") !== "neither" ? [k] : [],
  );
  const ground = {
    chainage_m: given.chainage_m,
    slices: bounded.map((k) => itemAt(given.slices, k)),
    mean: bounded.map((k) => itemAt(given.log10Resistivity, k)),
  };
  const told = slicesAtBoreholes(ground, boreholes);
  const [coarse, fine] = (["coarse", "fine"] as const).map((kind) => sideOf(told, kind));
  if (!coarse || !fine || !(coarse.log10 + Math.log10(WRONG_WAY) < fine.log10)) return null;
  return (
    `The boreholes speak against the walk: it reads ${ohm(coarse)} beside coarse ground ` +
    `(${coarse.holes}) and ${ohm(fine)} beside fine ground (${fine.holes}). Coarse ground mostly ` +
    "conducts less. Salt water in it could turn that round; so do exchanged or misplaced boreholes " +
    "and chainages that are off. Settle which before a class gets a name or a borehole is relied on."
  );
}

function sideOf(told: readonly SliceAtBorehole[], kind: SliceAtBorehole["kind"]) {
  const own = told.filter((one) => one.kind === kind);
  const holes = listText([...new Set(own.map(({ borehole }) => borehole))]);
  return { holes, log10: median(own.map(({ log10 }) => log10)) };
}

const ohm = ({ log10 }: { readonly log10: number }) => `${significantText(10 ** log10, 2)} ohm-m`;
