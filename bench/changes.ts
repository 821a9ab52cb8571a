import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deserialize, serialize } from "node:v8";
import { CONDITION_NAMES, type ConditionName } from "../tests/abroad/judged/change/conditions.js";
import { type Estimated, estimated } from "../tests/abroad/judged/change/estimated.js";
import { type JudgedPair, judgedPair } from "../tests/abroad/judged/change/judged.js";
import { changeTable, type JudgedCondition } from "../tests/abroad/judged/change/table.js";

/**
 * Pairs of campaigns under errors of instrument, operator and place, without a change and with one:
 * `npm run build && node dist/bench/changes.js`, four to eight seconds of processor for the two pairs of a seed.
 * From the environment: CHANGES_FROM (first seed, 91000), CHANGES_SEEDS (seeds a condition, 4),
 * CHANGES_CONDITIONS (those whose name holds one of the words, comma between), CHANGES_KEPT (a
 * folder in which the depth slices are kept: a second run compares alone), CHANGES_EACH=1 (a line a pair).
 */
const { CHANGES_CONDITIONS, CHANGES_EACH, CHANGES_FROM, CHANGES_KEPT, CHANGES_SEEDS } = process.env;
const from = Number(CHANGES_FROM ?? 91_000);
const seeds = Array.from({ length: Number(CHANGES_SEEDS ?? 4) }, (_, i) => from + i);
const words = CHANGES_CONDITIONS?.split(",") ?? [""];
const names = new Set(
  words.flatMap((word) => CONDITION_NAMES.filter((name) => name.includes(word))),
);

const all = new Map<string, JudgedCondition>();
for (const name of names) {
  const still: JudgedPair[] = [];
  const changed: JudgedPair[] = [];
  for (const seed of seeds) {
    const made = await kept(name, seed);
    still.push(told(made, judgedPair(made, "still")));
    changed.push(told(made, judgedPair(made, "changed")));
  }
  all.set(name, { still, changed });
  console.log(
    changeTable(new Map([[name, { still, changed }]]))
      .split("\n")
      .at(-1),
  );
}
console.log(`\nseeds ${from} to ${from + seeds.length - 1}\n\n${changeTable(all)}`);

function told({ condition, instrument, ground, seed }: Estimated, pair: JudgedPair): JudgedPair {
  if (CHANGES_EACH) console.log(condition, seed, ground, instrument, JSON.stringify(pair));
  return pair;
}

/** Made, or read where it was kept. */
async function kept(name: ConditionName, seed: number): Promise<Estimated> {
  if (CHANGES_KEPT === undefined) return estimated(name, seed);
  const file = join(CHANGES_KEPT, `${name.replaceAll(" ", "-").replace("%", "pc")}-${seed}.bin`);
  if (existsSync(file)) return deserialize(readFileSync(file));
  mkdirSync(CHANGES_KEPT, { recursive: true });
  const made = await estimated(name, seed);
  writeFileSync(file, serialize(made));
  return made;
}
