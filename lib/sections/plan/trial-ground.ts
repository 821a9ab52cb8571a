import { neighbours } from "../../numerics/arrays.js";
import type { Random } from "../../numerics/random.js";
import type { SectionEarth } from "../section-input.js";
import type { LineLayout } from "./layout.js";
import type { LineTarget } from "./line-plan.js";
import type { PlanLineOptions } from "./options.js";

/** Ground of one trial with the target somewhere about the middle of the line. */
export interface TrialGround {
  /** The target's ends, m from the first electrode. */
  readonly from_m: number;
  readonly to_m: number;
  /** Resistivity, ohm-m, with the target and without. */
  readonly truth: (x_m: number, depth_m: number) => number;
  readonly host: (x_m: number, depth_m: number) => number;
  readonly isTarget: (x_m: number, depth_m: number) => boolean;
}

export function trialGround(
  target: LineTarget,
  layout: LineLayout,
  { used, random }: { readonly used: PlanLineOptions; readonly random: Random },
): TrialGround {
  const { spacing_m, electrodes } = layout;
  const middle = (spacing_m * (electrodes.length - 1)) / 2 + spacing_m * random.uniform();
  const [from_m, to_m] = [middle - target.length_m / 2, middle + target.length_m / 2];
  const variation = naturalVariation(used, random);
  const host = (x: number, z: number) => layerAt(used.earth, z) * Math.exp(variation(x, z));
  const isTarget = (x: number, z: number) =>
    x > from_m && x < to_m && z > target.top_m && z < target.base_m;
  const truth = (x: number, z: number) =>
    host(x, z) * (isTarget(x, z) ? target.resistivityRatio : 1);
  return { from_m, to_m, truth, host, isTarget };
}

function layerAt(
  { resistivity_ohm_m, thickness_m }: PlanLineOptions["earth"],
  depth_m: number,
): number {
  let [layer, base] = [0, thickness_m[0] ?? Infinity];
  while (depth_m >= base) {
    layer += 1;
    base += thickness_m[layer] ?? Infinity;
  }
  return resistivity_ohm_m[layer] ?? Number.NaN;
}

const WAVES = 16;

/** A Gaussian random field of ln ρ as a sum of waves, correlation exp(−(x/X)²/2 − (z/Z)²/2). */
function naturalVariation(used: PlanLineOptions, random: Random) {
  const waves = Array.from({ length: WAVES }, () => ({
    along: random.normal() / used.groundLength_m,
    down: random.normal() / used.groundDepth_m,
    phase: 2 * Math.PI * random.uniform(),
  }));
  const scale = used.groundSd * Math.sqrt(2 / WAVES);
  return (x: number, z: number) =>
    waves.reduce(
      (sum, { along, down, phase }) => sum + scale * Math.cos(along * x + down * z + phase),
      0,
    );
}

/** Cells of the trial's ground over a spacing, and beyond the line's ends, in spacings. */
const FINE = 2;
const BESIDE = 5;
/** They meet none of the edges that an inversion lays. */
const ASKEW = 0.11;

/** The ground in cells finer than, and other than, those of an inversion. */
export function trialEarth(
  { truth }: Pick<TrialGround, "truth">,
  { spacing_m, electrodes }: LineLayout,
  { base_m }: LineTarget,
): SectionEarth {
  const columns = FINE * (electrodes.length - 1 + 2 * BESIDE);
  const x_m = Array.from({ length: columns }, (_, i) => spacing_m * (ASKEW - BESIDE + i / FINE));
  const depth_m = [0];
  for (let z = 0; z < 3 * base_m; ) {
    z += 0.35 * spacing_m + 0.1 * z;
    depth_m.push(z);
  }
  const middles = (edges: readonly number[]) =>
    neighbours(edges).map(([from, to]) => (from + to) / 2);
  const resistivity_ohm_m = middles(depth_m).map((z) => middles(x_m).map((x) => truth(x, z)));
  return { x_m, depth_m, resistivity_ohm_m };
}
