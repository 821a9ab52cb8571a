import type { CoilGeometry } from "../../earth/coil-quadrature.js";
import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";
import type { Channel } from "../../survey/survey.js";
import type { PlanTarget } from "../plan.js";
import { type Footprint, footprint } from "./footprint.js";

/** For each channel the footprint at the target's depths, worked out once for each coil pair. */
export function targetFootprints(
  channels: readonly Channel[],
  height_m: number,
  target: PlanTarget,
): readonly Footprint[] {
  const made = new Map<string, Footprint>();
  return channels.map(({ orientation, separation_m }) => {
    const key = `${orientation} ${separation_m}`;
    const below = made.get(key) ?? footprintOf({ orientation, separation_m, height_m }, target);
    made.set(key, below);
    return below;
  });
}

/** Footprints at several depths of the target, by how much each depth shows there. */
function footprintOf(coils: CoilGeometry, target: PlanTarget): Footprint {
  const { separation_m, height_m } = coils;
  const [top, base, nodes] =
    target.kind === "lens"
      ? [target.top_m, target.base_m, 4]
      : [0, 4 * (separation_m + height_m), 8];
  const rule = gaussLegendre(nodes);
  const parts = Array.from(rule.node, (node, k) => {
    const depth_m = top + ((1 + node) / 2) * (base - top);
    const weight = rule.weight[k]! * relativeResponse(coils, depth_m);
    return { weight, below: footprint(coils, depth_m) };
  });
  const whole = parts.reduce((sum, part) => sum + part.weight, 0);
  return (x) => parts.reduce((sum, part) => sum + part.weight * part.below(x), 0) / whole;
}

/** Relative low-induction response of a thin layer (McNeill 1980), up to a factor. */
function relativeResponse({ orientation, separation_m, height_m }: CoilGeometry, depth_m: number) {
  const z = (depth_m + height_m) / separation_m;
  const root = Math.sqrt(4 * z * z + 1);
  if (orientation === "HCP") return (4 * z) / root ** 3;
  if (orientation === "VCP") return 2 / (root * (root + 2 * z));
  return 2 / root ** 3;
}

/**
 * The share of a target's full change that coils have with their middle at x, the target's at 0.
 */
export function targetShare(below: Footprint, target: PlanTarget): (x_m: number) => number {
  if (target.kind === "boundary") return (x) => 1 - below(-x);
  const half = target.length_m / 2;
  return (x) => below(half - x) - below(-half - x);
}
