import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deserialize, serialize } from "node:v8";
import {
  type EstimatedBank,
  estimatedBank,
  type WorkedBank,
  withEvidence,
} from "../tests/abroad/seepage/judged-bank.js";
import { seepageTables } from "../tests/abroad/seepage/tables.js";

/**
 * Seeded banks through the whole chain from their readings: how well the score tells weak places
 * from others, what each piece of evidence adds, and the weights that these banks would give:
 * `npm run build && node dist/bench/seepage.js`, some fifteen seconds of processor a bank. From the
 * environment: SEEPAGE_FROM (first seed, 96001), SEEPAGE_BANKS (how many, 20), SEEPAGE_KEPT (a
 * folder in which what the steps made of a bank is kept: a second run scores alone),
 * SEEPAGE_SECONDS (no bank is begun after so many: the next run goes on from the folder),
 * SEEPAGE_SPACING (of stations, 5 m).
 */
const { SEEPAGE_BANKS, SEEPAGE_FROM, SEEPAGE_KEPT, SEEPAGE_SECONDS, SEEPAGE_SPACING } = process.env;
const from = Number(SEEPAGE_FROM ?? 96_001);
const seeds = Array.from({ length: Number(SEEPAGE_BANKS ?? 20) }, (_, k) => from + k);
const spacing_m = Number(SEEPAGE_SPACING ?? 5);
const seconds = Number(SEEPAGE_SECONDS ?? Number.POSITIVE_INFINITY);

const banks: WorkedBank[] = [];
const started = process.uptime();
for (const seed of seeds) {
  const isLate = process.uptime() - started > seconds;
  if (isLate && !isKept(seed)) continue;
  banks.push(withEvidence({ seed }, await kept(seed)));
}
const last = from + seeds.length - 1;
console.log(`${banks.length} of the banks ${from} to ${last}, stations ${spacing_m} m apart\n`);
console.log(seepageTables(banks));

function fileOf(seed: number): string | null {
  return SEEPAGE_KEPT === undefined ? null : join(SEEPAGE_KEPT, `bank-${seed}.bin`);
}

function isKept(seed: number): boolean {
  const file = fileOf(seed);
  return file !== null && existsSync(file);
}

/** Made, or read where it was kept. */
async function kept(seed: number): Promise<EstimatedBank> {
  const file = fileOf(seed);
  if (file !== null && existsSync(file)) return deserialize(readFileSync(file));
  const before = process.cpuUsage().user;
  const estimated = await estimatedBank({ seed }, spacing_m);
  console.log(`bank ${seed}: ${((process.cpuUsage().user - before) / 1e6).toFixed(0)} s`);
  if (file === null) return estimated;
  mkdirSync(SEEPAGE_KEPT!, { recursive: true });
  writeFileSync(file, serialize(estimated));
  return estimated;
}
