import { type Profile, randomWalk } from "../ground/profiles.js";
import { chance } from "../random.js";
import type { WeakPlace } from "./weak-places.js";

/** What lies under the bank and landward of it: a blanket of clay on sand. */
export interface Foundation {
  readonly blanket_m: Profile;
  readonly aquifer_m: Profile;
  /** Elevation of the ground at the toe, m. */
  readonly ground_m: Profile;
  readonly blanket_m_per_s: number;
  readonly aquifer_m_per_s: number;
  readonly watersideLength_m: number;
  readonly landsideLength_m: number;
  readonly landside: "blocked" | "open";
}

/** The blanket is thinner beside most weak places; the ground at the toe goes up and down. */
export function foundationOf(seed: number, { length_m, weak, toe_m }: FoundationPlan): Foundation {
  const random = chance(seed, "foundation");
  const log = (low: number, high: number) => low * (high / low) ** random.uniform();
  const [blanket, aquifer] = [random.between(1, 2.4), random.between(3, 10)];
  const [wave, swell, rise] = [
    randomWalk(random, length_m),
    randomWalk(random, length_m),
    randomWalk(random, length_m),
  ];
  const thinned = weak.filter(() => random.uniform() < 0.7);
  const thin = (x: number) =>
    thinned.some(({ from_m, to_m }) => x > from_m - 5 && x < to_m + 5) ? 0.55 : 1;
  const within = (value: number, most: number) => Math.max(-most, Math.min(most, value));
  return {
    blanket_m: (x) => Math.max(0.4, blanket * thin(x) * Math.exp(within(0.2 * wave(x), 0.6))),
    aquifer_m: (x) => aquifer * Math.exp(within(0.15 * swell(x), 0.5)),
    ground_m: (x) => toe_m + within(0.25 * rise(x), 0.6),
    blanket_m_per_s: log(1e-7, 5e-6),
    aquifer_m_per_s: log(5e-5, 1e-3),
    watersideLength_m: log(10, 100),
    landsideLength_m: log(50, 300),
    landside: random.uniform() < 0.5 ? "blocked" : "open",
  };
}

interface FoundationPlan {
  readonly length_m: number;
  readonly weak: readonly WeakPlace[];
  /** Mean elevation of the ground at the toe, m. */
  readonly toe_m: number;
}
