import { invertSectionChange } from "../lib/index.js";
import { differenceFinds, isFoundBy, seededChange } from "../tests/support/seeded-changes.js";

/**
 * Changes of 30 % in 3 × 2 m between two campaigns under 2 % noise, a line each: whether joint
 * inversion finds the body, how many others it shows, whether the difference of two sections finds
 * it. `npm run build && node dist/bench/section-changes.js`, half a minute of processor for each.
 * From the environment: CHANGES (how many, 5), CHANGES_FROM (the first seed, 95001).
 */
const from = Number(process.env.CHANGES_FROM ?? 95_001);
const count = Number(process.env.CHANGES ?? 5);

console.log("seed joint others difference");
for (let seed = from; seed < from + count; seed++) {
  const given = seededChange(seed, 0.02);
  const { bodies } = (await invertSectionChange(given.line)).value;
  const own = bodies.filter((body) => isFoundBy(given, body));
  const joint = own.length > 0 ? "found" : "missed";
  const difference = (await differenceFinds(given)) ? "found" : "missed";
  console.log(`${seed} ${joint} ${bodies.length - own.length} ${difference}`);
}
