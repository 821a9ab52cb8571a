import { invertSection } from "../lib/index.js";
import {
  type SectionScore,
  scoreOf,
  seededGround,
  seededLine,
} from "../tests/support/seeded-sections.js";

/**
 * Sections of seeded ground beside the truth, a line each:
 * `npm run build && node dist/bench/section-recovery.js`, six to ten seconds of processor for each.
 * From the environment: SECTIONS (how many, 10), SECTIONS_FROM (the first seed, 95001).
 */
const from = Number(process.env.SECTIONS_FROM ?? 95_001);
const count = Number(process.env.SECTIONS ?? 10);

console.log("seed kind misfit left-out cells below above claimed overlap");
for (let seed = from; seed < from + count; seed++) {
  const truth = seededGround(seed);
  const { value } = await invertSection(seededLine(truth, seed));
  const { rms, leftOut } = value;
  const fit = `${rms.toFixed(3)} ${leftOut.toFixed(2)}`;
  console.log(`${seed} ${truth.kind.replaceAll(" ", "-")} ${fit} ${told(scoreOf(value, truth))}`);
}

function told({ cells, below, above, claimed, overlap }: SectionScore): string {
  return `${cells} ${below} ${above} ${claimed.toFixed(2)} ${overlap.toFixed(2)}`;
}
