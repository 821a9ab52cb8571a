import { segmentBlocks } from "../lib/blocks/segment-blocks.js";
import { siteBoreholes } from "../lib/boreholes/siting/site-boreholes.js";
import { hindsight, wrongShare } from "../tests/boreholes/support/plan-error.js";
import { seededBank } from "../tests/boreholes/support/seeded-bank.js";
import { smallSurvey } from "../tests/support/small-survey.js";

/**
 * How often the kind of soil along seeded banks is told wrongly once a plan is drilled, and once as
 * many metres at equal spacing are: `npm run build && node dist/bench/siting.js`. From the
 * environment: SITING_FROM (first seed, 6001), SITING_BANKS (how many, 20), SITING_HOLES (5, comma
 * between), SITING_HINDSIGHT=1 (also the best place of each hole where the truth is known; slow),
 * SITING_EDGES=1 (the blocks are handed over as they are, not found).
 */
const { SITING_BANKS, SITING_EDGES, SITING_FROM, SITING_HINDSIGHT, SITING_HOLES } = process.env;
const from = Number(SITING_FROM ?? 6001);
const seeds = Array.from({ length: Number(SITING_BANKS ?? 20) }, (_, k) => from + k);

for (const holes of (SITING_HOLES ?? "5").split(",").map(Number)) {
  const rows = seeds.map((seed) => judged(seed, holes));
  const mean = (of: (row: (typeof rows)[number]) => number) =>
    rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
  const [plan, equal] = [mean((row) => row.plan), mean((row) => row.equal)];
  const squares = mean((row) => (row.equal - row.plan - (equal - plan)) ** 2);
  const error = Math.sqrt(squares / (rows.length - 1));
  console.log(
    `${holes} holes, ${rows.length} banks from ${from}: plan ${percent(plan)}, equal spacing ` +
      `${percent(equal)}, ${percent(1 - plan / equal)} lower, gain ${percent(equal - plan)} ± ` +
      percent(error) +
      (SITING_HINDSIGHT ? `, in hindsight ${percent(mean((row) => row.best))}` : ""),
  );
}

function judged(seed: number, holes: number) {
  const bank = seededBank(seed);
  const found = segmentBlocks(bank.slices).value;
  const blocks = SITING_EDGES ? { ...found, blocks: trueBlocks(bank, found) } : found;
  const survey = smallSurvey({ length_m: bank.length_m });
  const plan = siteBoreholes({ survey, slices: bank.slices, blocks }, { holes }).value;
  const wrong = wrongShare(bank, blocks);
  const best = SITING_HINDSIGHT ? hindsight(bank.length_m, wrong, plan.equal.holes) : Number.NaN;
  return { plan: wrong(plan.holes), equal: wrong(plan.equal.holes), best };
}

function trueBlocks(
  { edges_m }: ReturnType<typeof seededBank>,
  { blocks }: ReturnType<typeof segmentBlocks>["value"],
) {
  return edges_m.slice(1).map((to_m, b) => {
    const from_m = edges_m[b]!;
    const sure = { fromInterval_m: [from_m, from_m], toInterval_m: [to_m, to_m] } as const;
    return { ...blocks[0]!, id: `B${b + 1}`, class: `${b + 1}`, from_m, to_m, ...sure };
  });
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
