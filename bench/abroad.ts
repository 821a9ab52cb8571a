import { BANKS } from "../tests/abroad/earth/slopes.js";
import { ERROR_KINDS, type ErrorKind } from "../tests/abroad/field/errors.js";
import { INSTRUMENT_KINDS } from "../tests/abroad/field/instruments.js";
import { GROUND_KINDS } from "../tests/abroad/ground/grounds.js";
import { chainTable } from "../tests/abroad/judged/chain-table.js";
import { grouped } from "../tests/abroad/judged/grouped.js";
import { type Case, judge } from "../tests/abroad/judged/judge.js";
import { judgeChain } from "../tests/abroad/judged/judge-chain.js";
import { rowOf, tableText } from "../tests/abroad/judged/table.js";
import type { SlopesPlan } from "../tests/abroad/survey.js";

/**
 * The steps on other ground, with other instruments and other errors, case by case:
 * `npm run build && node dist/bench/abroad.js`. Depth slices by default, about a second a survey;
 * with `chain` after it, blocks and changes too, three seconds. `node dist/bench/changes.js` judges pairs
 * of campaigns. From the environment: ABROAD_FROM (first seed, 1), ABROAD_SEEDS (surveys a case, 2, of the chain 1), ABROAD_ERRORS (a set of errors, "field"),
 * ABROAD_GROUNDS and ABROAD_INSTRUMENTS (those whose name holds one of the words, comma between),
 * ABROAD_SLOPES (a bank with slopes, "broad" or "narrow"; else level ground), ABROAD_OPTIONS (of
 * estimateDepthSlices, as JSON; depth slices only).
 */
const {
  ABROAD_ERRORS,
  ABROAD_FROM,
  ABROAD_GROUNDS,
  ABROAD_INSTRUMENTS,
  ABROAD_OPTIONS,
  ABROAD_SEEDS,
  ABROAD_SLOPES,
} = process.env;
const slopes = slopesOf(ABROAD_SLOPES);
const chain = process.argv[2] === "chain";
const from = Number(ABROAD_FROM ?? 1);
const seeds = Number(ABROAD_SEEDS ?? (chain ? 1 : 2));
const errors = errorsOf(ABROAD_ERRORS ?? "field");
const options = JSON.parse(ABROAD_OPTIONS ?? "{}");

console.log(
  `errors: ${errors}; ${seeds} surveys of 400 m a case; options ${JSON.stringify(options)}`,
);
const cases = allCases();
if (chain) console.log(chainTable(grouped(await each(cases, judgeChain))));
else {
  const judged = grouped(await each(cases, (one) => judge(one, options)));
  console.log(tableText([...judged].map(([name, all]) => rowOf(name, all))));
}

async function each<One>(all: readonly Case[], work: (one: Case) => Promise<One>): Promise<One[]> {
  const done: One[] = [];
  for (const one of all) done.push(await work(one));
  return done;
}

function allCases(): readonly Case[] {
  const instruments = named(INSTRUMENT_KINDS, ABROAD_INSTRUMENTS);
  return named(GROUND_KINDS, ABROAD_GROUNDS).flatMap((ground) =>
    instruments.flatMap((instrument) =>
      Array.from({ length: seeds }, (_, i) => ({
        ...{ ground, instrument, errors, seed: from + i },
        ...(slopes && { slopes }),
      })),
    ),
  );
}

function slopesOf(name?: string): SlopesPlan | null {
  if (name === undefined) return null;
  const bank = BANKS.find((one) => one === name);
  if (bank !== undefined) return { bank };
  throw new Error(`ABROAD_SLOPES must be one of ${BANKS.join(", ")}`);
}

function errorsOf(name: string): ErrorKind {
  const found = ERROR_KINDS.find((kind) => kind === name);
  if (found !== undefined) return found;
  throw new Error(`ABROAD_ERRORS must be one of ${ERROR_KINDS.join(", ")}`);
}

function named<Kind extends string>(kinds: readonly Kind[], words?: string): readonly Kind[] {
  if (words === undefined) return kinds;
  return kinds.filter((kind) => words.split(",").some((word) => kind.includes(word)));
}
