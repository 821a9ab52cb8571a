import { jointWeights } from "../tests/abroad/seepage/joint-weights.js";
import { judged, type WorkedBank, workedBank } from "../tests/abroad/seepage/judged-bank.js";
import {
  areaUnderCurve,
  brierScore,
  forecastsOf,
  reliability,
} from "../tests/abroad/seepage/scores.js";

/**
 * Weights of evidence measured on seeded banks, and what the declared ones come to on them:
 * `npm run build && node dist/bench/seepage.js`, some ten seconds a bank. From the environment:
 * SEEPAGE_FROM (first seed, 1) and SEEPAGE_BANKS (how many, 20).
 */
const { SEEPAGE_BANKS, SEEPAGE_FROM } = process.env;
const from = Number(SEEPAGE_FROM ?? 1);
const banks: WorkedBank[] = [];
for (let k = 0; k < Number(SEEPAGE_BANKS ?? 20); k++) {
  banks.push(await workedBank({ seed: from + k }));
}
const all = banks.map((bank) => judged(bank));
for (const [name, { present, absent }] of jointWeights(all)) {
  console.log(`${name.padEnd(26)} present ${present.toFixed(2)}  absent ${absent.toFixed(2)}`);
}
const forecasts = forecastsOf(all);
const sound = all.filter(({ isSound }) => isSound);
console.log(`area under the curve ${areaUnderCurve(forecasts).toFixed(3)}`);
console.log(`Brier score ${brierScore(forecasts).toFixed(4)}`);
console.log(`banks without a weak place: ${sound.length}, with a zone: ${withZone(sound)}`);
for (const { cells, said, seen } of reliability(forecasts, [0, 0.03, 0.1, 0.3, 0.6, 1])) {
  console.log(`said ${said.toFixed(3)}, seen ${seen.toFixed(3)} (${cells} cells)`);
}

function withZone(some: typeof all): number {
  return some.filter(({ falseZones }) => falseZones > 0).length;
}
