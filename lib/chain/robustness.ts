import { type Decision, decidedText } from "../step/decision.js";
import { defineStep, runLongStep } from "../step/define-step.js";
import { StepError } from "../step/step-error.js";
import type { StepResult } from "../step/step-result.js";
import { targetOf } from "./decisions/decided-options.js";
import { decisionTables } from "./decisions/decision-table.js";
import type { RobustnessFinding } from "./findings.js";
import type { Link } from "./link.js";
import { rerunLinks } from "./run-links.js";
import type { Work } from "./work.js";

/** What is tried again, and by which links. */
export interface Robustness {
  readonly links: readonly Link[];
  readonly work: Work;
  /** Told before each alternative: how many are done, and how many there are. */
  readonly progress: ((done: number, total: number) => void) | undefined;
}

const robustnessStep = defineStep({
  name: "tryAlternatives",
  options: {},
  run: tried,
  report: (rows, _, { work }: Robustness) => ({
    value: rows as readonly RobustnessFinding[],
    summary: summaryOf(rows),
    basis: [
      {
        statement:
          "One decision is varied at a time, the others as decided; every step that rests on what " +
          "came out different is run again, down to the proposed boreholes.",
        source: "common practice",
      },
    ],
    tables: [...decisionTables(work.decisions), tableOf(rows)],
  }),
});

/** One row for each alternative of each decision: what it would change, to the last finding. */
export function robustnessOf(input: Robustness): Promise<StepResult<readonly RobustnessFinding[]>> {
  return runLongStep(robustnessStep, input, {});
}

async function tried({ links, work, progress }: Robustness): Promise<RobustnessFinding[]> {
  const pairs = work.decisions.flatMap((decision) =>
    decision.alternatives.map((alternative) => ({ decision, alternative })),
  );
  const rows: RobustnessFinding[] = [];
  for (const [i, { decision, alternative }] of pairs.entries()) {
    progress?.(i, pairs.length);
    rows.push({
      decision: decision.name,
      chosen: decidedText(decision.value),
      alternative: decidedText(alternative),
      ...(await effectOf(links, work, { decision, alternative })),
    });
  }
  return rows;
}

interface Tried {
  readonly decision: Decision;
  readonly alternative: unknown;
}

const NO_TARGET = "On the record only: the decision sets no option of a step.";

/** What an alternative makes different, from its own step to the last. */
async function effectOf(
  links: readonly Link[],
  work: Work,
  { decision, alternative }: Tried,
): Promise<Pick<RobustnessFinding, "effect" | "lost">> {
  const steps = links.map(({ step }) => step);
  const target = targetOf(decision, steps);
  if (target === null) return { effect: NO_TARGET };
  const options = { [target.option]: alternative };
  try {
    const rerun = await rerunLinks(links, work, { step: target.step.name, options });
    if (rerun.changed.size === 0) return { effect: "Nothing changes." };
    const changed = links.filter(({ gives }) => rerun.changed.has(gives));
    const texts = changed.flatMap(({ effect }) => effect?.(work, rerun.work) ?? []);
    const lost = changed.flatMap((link) => link.lost?.(work, rerun.work) ?? []);
    const effect = texts.length === 0 ? ONLY_VALUES : texts.join(" ");
    return { effect, ...(lost.length > 0 && { lost }) };
  } catch (error) {
    if (error instanceof StepError) {
      return { effect: `Cannot be tried: ${error.message.split("\n")[0]}.` };
    }
    throw error;
  }
}

const ONLY_VALUES =
  "Nothing changes that is named: values move a little; stretches, blocks and zones stay.";

function summaryOf(rows: readonly RobustnessFinding[]): string {
  if (rows.length === 0) return "No decision named an alternative.";
  const unchanged = rows.filter(({ effect }) => effect.startsWith("Nothing changes")).length;
  return `${rows.length} alternatives were tried or named; ${unchanged} of them change nothing.`;
}

function tableOf(rows: readonly RobustnessFinding[]) {
  return {
    id: "robustness",
    caption: "What would change if a decision had gone the other way",
    columns: [
      { field: "decision", label: "Decision" },
      { field: "chosen", label: "Chosen" },
      { field: "alternative", label: "Instead" },
      { field: "effect", label: "Effect" },
    ],
    rows: rows.map(({ decision, chosen, alternative, effect }) => ({
      ...{ decision, chosen, alternative, effect },
    })),
  };
}
