import { type Random, seededRandom } from "../../lib/numerics/random.js";
import { FACTS } from "./facts.js";

/** A random source of its own for each named part, so that one part's change leaves the rest. */
export function chance(part: string): Random {
  let hash = 0;
  for (const letter of part) hash = (Math.imul(hash, 31) + letter.charCodeAt(0)) | 0;
  return seededRandom(FACTS.seed + (hash >>> 0));
}

/** A first-order autoregressive process of zero mean; each call moves on by `step`. */
export function wander(random: Random, sd: number, length: number): (step: number) => number {
  let value = sd * random.normal();
  return (step) => {
    const keep = Math.exp(-step / length);
    value = keep * value + sd * Math.sqrt(1 - keep * keep) * random.normal();
    return value;
  };
}
