import { itemAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import { decidedText } from "../../step/decision.js";
import { defineStep } from "../../step/define-step.js";
import { numberOption } from "../../step/options/number.js";
import { countText } from "../../step/show/html.js";
import { targetOf } from "../decisions/decided-options.js";
import { decidedInWords } from "../decisions/decision-words.js";
import { type AlternativeTask, type Effect, isRefused } from "./alternative-effect.js";
import { effectsOf, type Robustness } from "./trials.js";

/** Several decisions gone another way at once, and what that makes different. */
export interface Combination extends Effect {
  /** The decisions that differ, as "decision = value". */
  readonly taken: readonly string[];
  /** The same in words, such as "Shortest block: 40 m". */
  readonly instead: readonly string[];
}

/** What comes of a sample of combinations of alternatives. */
export interface Combinations {
  readonly combinations: readonly Combination[];
  /** How many of them no step refused. */
  readonly followed: number;
  /** Every finding of the main line and in how many of those it is made. */
  readonly findings: readonly { readonly finding: string; readonly kept: number }[];
}

const options = {
  count: numberOption({
    default: 8,
    from: 0,
    upTo: 1000,
    whole: true,
    meaning: "Combinations that are tried; each is a run of most of the chain.",
  }),
  seed: numberOption({
    default: 1,
    from: 0,
    whole: true,
    meaning: "The same seed draws the same combinations.",
  }),
};

export interface CombinationOptions {
  readonly count: number;
  readonly seed: number;
}

export const combinationsStep = defineStep({
  name: "tryCombinations",
  options,
  run: tried,
  report: (value, { seed }) => ({
    value,
    summary: summaryOf(value),
    basis: [
      {
        statement:
          "Each decision goes another way with probability one half, to any of its alternatives " +
          `alike, two or more of them at once; drawn with seed ${seed}. Every step that rests on ` +
          "what came out different is run again. A stretch is the same finding where it shares " +
          "two thirds of what either covers, a zone where its band is the same too.",
        source: "common practice (one-at-a-time and random sampling of assumptions)",
      },
    ],
    tables: value.combinations.length === 0 ? [] : [keptTable(value), combinationsTable(value)],
  }),
});

async function tried(
  given: Robustness,
  { count, seed }: CombinationOptions,
): Promise<Combinations> {
  const { links, work } = given;
  const drawn = drawnTasks(given, { count, seed });
  const effects = drawn.length === 0 ? [] : await effectsOf(given, drawn);
  const combinations = drawn.map((tasks, i) => {
    const other = tasks.map(({ decision, alternative }) => ({
      name: itemAt(work.decisions, decision).name,
      value: decidedText(alternative),
    }));
    const taken = other.map(({ name, value }) => `${name} = ${value}`);
    const instead = other.map(
      ({ name, value }, k) => decidedInWords(name, value) ?? itemAt(taken, k),
    );
    return { taken, instead, ...itemAt(effects, i) };
  });
  const followed = combinations.filter((one) => !isRefused(one));
  const names = links.flatMap((link) => link.names?.(work) ?? []);
  const findings = names.map((finding) => ({
    finding,
    kept: followed.filter(({ lost = [] }) => !lost.includes(finding)).length,
  }));
  return { combinations, followed: followed.length, findings };
}

/** Draws that are given up as repeated or of a single decision, for each that is asked for. */
const TRIES = 20;

/** Distinct combinations of at least two decisions, fewer where there are not as many. */
function drawnTasks(
  { links, work }: Robustness,
  { count, seed }: CombinationOptions,
): readonly (readonly AlternativeTask[])[] {
  const steps = links.map(({ step }) => step);
  const open = work.decisions.flatMap((decision, at) =>
    decision.alternatives.length > 0 && targetOf(decision, steps) !== null
      ? [{ decision: at, alternatives: decision.alternatives }]
      : [],
  );
  const random = seededRandom(seed);
  const drawn = new Map<string, readonly AlternativeTask[]>();
  for (let i = 0; i < TRIES * count && drawn.size < count; i++) {
    const tasks = open.flatMap(({ decision, alternatives }) => {
      const isTaken = random.uniform() < 0.5;
      const alternative = itemAt(alternatives, random.integer(alternatives.length));
      return isTaken ? [{ decision, alternative }] : [];
    });
    if (tasks.length > 1) drawn.set(JSON.stringify(tasks), tasks);
  }
  return [...drawn.values()];
}

function summaryOf({ combinations, followed, findings }: Combinations): string {
  const count = combinations.length;
  if (count === 0) return "No combination of alternatives was tried.";
  const always = findings.filter(({ kept }) => kept === followed).length;
  const refused = count > followed ? `, ${count - followed} of them refused` : "";
  return (
    `${countText(count, "combination")} of alternatives tried${refused}: ${always} of ` +
    `${countText(findings.length, "finding")} are made under each of them.`
  );
}

function keptTable({ followed, findings }: Combinations) {
  return {
    id: "combinations-kept",
    caption: `In how many of ${followed} combinations of alternatives each finding is made`,
    columns: [
      { field: "finding", label: "Finding" },
      { field: "kept", label: `Made, of ${followed}`, digits: 0 },
    ],
    rows: findings.map((one) => ({ ...one })),
  };
}

function combinationsTable({ combinations }: Combinations) {
  return {
    id: "combinations",
    caption: "What would change if several decisions had gone another way at once",
    columns: [
      { field: "instead", label: "Instead" },
      { field: "effect", label: "Effect" },
    ],
    rows: combinations.map(({ instead, effect }) => ({ instead: instead.join("; "), effect })),
  };
}
