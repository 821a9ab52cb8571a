import { chance, wander } from "./chance.js";
import { FACTS } from "./facts.js";

/** How uneven the ground is within a block. */

const GRAIN = Object.freeze({
  step_m: 0.5,
  margin_m: 30,
  length_m: 5,
  commonSd: 0.05,
  zoneSd: 0.05,
  /** Depths that part the zones of separate heterogeneity. */
  zones_m: [1, 2.2, 3.8],
});

/** Log-normal heterogeneity: one part common to all depths, one for each depth zone; a log factor. */
export function makeGrain(part: string): (chainage_m: number, depth_m: number) => number {
  const common = grainAlong(part, GRAIN.commonSd);
  const zones = [0, 1, 2, 3].map((zone) => grainAlong(`${part}-${zone}`, GRAIN.zoneSd));
  return (chainage_m, depth_m) => {
    const zone = GRAIN.zones_m.filter((edge) => depth_m >= edge).length;
    return common(chainage_m) + zones[zone]!(chainage_m);
  };
}

function grainAlong(part: string, sd: number): (chainage_m: number) => number {
  const count = Math.ceil((FACTS.length_m + 2 * GRAIN.margin_m) / GRAIN.step_m) + 1;
  const next = wander(chance(part), sd, GRAIN.length_m);
  const values = Float64Array.from({ length: count }, () => next(GRAIN.step_m));
  return (chainage_m) => {
    const at = (chainage_m + GRAIN.margin_m) / GRAIN.step_m;
    const index = Math.min(count - 2, Math.max(0, Math.floor(at)));
    const share = Math.min(1, Math.max(0, at - index));
    return values[index]! * (1 - share) + values[index + 1]! * share;
  };
}
