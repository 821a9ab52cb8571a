import { ERROR_KINDS, type ErrorKind } from "../tests/abroad/errors.js";
import { GROUND_KINDS } from "../tests/abroad/grounds.js";
import { INSTRUMENT_KINDS } from "../tests/abroad/instruments.js";
import { type Judged, judge } from "../tests/abroad/judge.js";
import { rowOf, tableText } from "../tests/abroad/table.js";

/**
 * The estimate of resistivity by depth on other ground, other instruments and other errors, case by
 * case: `npm run build && node dist/bench/abroad.js`. From the environment: ABROAD_SEEDS (surveys a
 * case, 2), ABROAD_ERRORS (a set of errors, "field"), ABROAD_GROUNDS and ABROAD_INSTRUMENTS (those
 * whose name holds one of the words, comma between), ABROAD_OPTIONS (of the step, as JSON).
 */
const seeds = Number(process.env.ABROAD_SEEDS ?? 2);
const errors = errorsOf(process.env.ABROAD_ERRORS ?? "field");
const options = JSON.parse(process.env.ABROAD_OPTIONS ?? "{}");
const grounds = named(GROUND_KINDS, process.env.ABROAD_GROUNDS);
const instruments = named(INSTRUMENT_KINDS, process.env.ABROAD_INSTRUMENTS);

console.log(
  `errors: ${errors}; ${seeds} surveys of 400 m a case; options ${JSON.stringify(options)}`,
);
const all: Judged[] = [];
for (const ground of grounds) {
  for (const instrument of instruments) {
    for (let seed = 1; seed <= seeds; seed++) {
      all.push(await judge({ ground, instrument, errors, seed }, options));
    }
  }
}
console.log(tableText([...caseRows(), ...groundRows(), ...instrumentRows(), rowOf("all", all)]));

function caseRows() {
  return grounds.flatMap((ground) =>
    instruments.map((instrument) =>
      rowOf(
        `${ground} × ${instrument}`,
        all.filter((one) => one.ground === ground && one.instrument === instrument),
      ),
    ),
  );
}

function groundRows() {
  return grounds.map((ground) =>
    rowOf(
      `all of ${ground}`,
      all.filter((one) => one.ground === ground),
    ),
  );
}

function instrumentRows() {
  return instruments.map((kind) =>
    rowOf(
      `all of ${kind}`,
      all.filter((one) => one.instrument === kind),
    ),
  );
}

function errorsOf(name: string): ErrorKind {
  const found = ERROR_KINDS.find((kind) => kind === name);
  if (found === undefined)
    throw new Error(`ABROAD_ERRORS must be one of ${ERROR_KINDS.join(", ")}`);
  return found;
}

function named<Kind extends string>(
  kinds: readonly Kind[],
  words: string | undefined,
): readonly Kind[] {
  if (words === undefined) return kinds;
  return kinds.filter((kind) => words.split(",").some((word) => kind.includes(word)));
}
