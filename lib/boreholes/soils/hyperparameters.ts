import type { SoilKernel } from "./soil-kernel.js";

/** One way in which a property may vary. Values are standardised: variance 1 among the samples. */
export interface SoilMember extends SoilKernel {
  /** Variance over that of the samples. */
  readonly variance: number;
}

/** A place always keeps something of its own, so that no two samples are one. */
const LEAST_OWN = 0.05;
const STEPS = 3;
const RANGES_M = [40, 150, 600];
const VARIANCES = [0.3, 0.6, 1.2, 2.4];

/**
 * Every way that is tried, all equally likely before the samples: bounds on each hyperparameter.
 */
export function soilMembers(): readonly SoilMember[] {
  return soilKernels().flatMap((kernel) => VARIANCES.map((variance) => ({ ...kernel, variance })));
}

function soilKernels(): SoilKernel[] {
  const kernels: SoilKernel[] = [];
  const share = (k: number) => (1 - LEAST_OWN) * (k / STEPS);
  for (let r = 0; r <= STEPS; r++) {
    for (let b = 0; r + b <= STEPS; b++) {
      for (let n = 0; r + b + n <= STEPS; n++) {
        const own = LEAST_OWN + share(STEPS - r - b - n);
        const shares = { resistivity: share(r), block: share(b), near: share(n), own };
        const ranges = n === 0 ? RANGES_M.slice(1, 2) : RANGES_M;
        kernels.push(...ranges.map((range_m) => ({ ...shares, range_m })));
      }
    }
  }
  return kernels;
}

/** The mean of members by weight; ranges are averaged on a log scale. */
export function meanKernel(
  members: readonly SoilKernel[],
  weight: ArrayLike<number> = new Float64Array(members.length).fill(1),
): SoilKernel {
  let total = 0;
  const sums = { resistivity: 0, block: 0, near: 0, own: 0, lnRange: 0 };
  for (const [i, member] of members.entries()) {
    const w = weight[i] ?? 0;
    total += w;
    sums.resistivity += w * member.resistivity;
    sums.block += w * member.block;
    sums.near += w * member.near;
    sums.own += w * member.own;
    sums.lnRange += w * Math.log(member.range_m);
  }
  return {
    resistivity: sums.resistivity / total,
    block: sums.block / total,
    near: sums.near / total,
    own: sums.own / total,
    range_m: Math.exp(sums.lnRange / total),
  };
}

/** What is held before any borehole: the mean of all that is tried. */
export const priorKernel: SoilKernel = Object.freeze(meanKernel(soilMembers()));
