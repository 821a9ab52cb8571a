import { itemAt } from "../numerics/arrays.js";
import { decidedText } from "../step/decision.js";
import { defineStep, runLongStep } from "../step/define-step.js";
import { heard } from "../step/heard-progress.js";
import type { StepResult } from "../step/step-result.js";
import { hasThreads } from "../step/threads/in-thread.js";
import { packed } from "../step/threads/parcel.js";
import { sharedOut } from "../step/threads/share-out.js";
import { type AlternativeTask, type Effect, effectOf, type Tried } from "./alternative-effect.js";
import { targetOf } from "./decisions/decided-options.js";
import { decisionTables } from "./decisions/decision-table.js";
import type { RobustnessFinding } from "./findings.js";
import type { Link } from "./link.js";
import type { Work } from "./work.js";
import { workKinds } from "./work-kinds.js";

/** What is tried again, and by which links. */
export interface Robustness {
  readonly links: readonly Link[];
  readonly work: Work;
  /** Told before each alternative: how many are done, and how many there are. */
  readonly progress: ((done: number, total: number) => void) | undefined;
  /** The module by which threads find the same links; undefined: all is done in this thread. */
  readonly module?: URL | undefined;
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
  return heard("tryAlternatives", (tell) => {
    const progress = input.progress ?? tell ?? undefined;
    return runLongStep(robustnessStep, { ...input, progress }, {});
  });
}

async function tried(given: Robustness): Promise<RobustnessFinding[]> {
  const { links, work, progress } = given;
  const all = work.decisions.flatMap((decision, at) =>
    decision.alternatives.map((alternative) => ({ decision, alternative, at })),
  );
  let told = -1;
  const tell = (done: number) => {
    if (done <= told || done === all.length) return;
    told = done;
    progress?.(done, all.length);
  };
  tell(0);
  const here = (i: number) => effectOf(links, work, [itemAt(all, i)]);
  const effects = await effectsOf(given, { all, here, tell });
  return all.map(({ decision, alternative }, i) => ({
    decision: decision.name,
    chosen: decidedText(decision.value),
    alternative: decidedText(alternative),
    ...itemAt(effects, i),
  }));
}

interface Trials {
  readonly all: readonly (Tried & { readonly at: number })[];
  readonly here: (trial: number) => Promise<Effect>;
  readonly tell: (done: number) => void;
}

/**
 * What each alternative makes different. This thread begins with those of late steps, which rest on
 * what it remembers of the work; other threads, where there are, with those of early steps, which
 * make all anew.
 */
async function effectsOf(
  { links, work, module }: Robustness,
  { all, here, tell }: Trials,
): Promise<readonly Effect[]> {
  const shared = module !== undefined && hasThreads() ? packed(work, workKinds) : null;
  if (module !== undefined && shared !== null) {
    const order = lateFirst(links, all);
    const tasks = order.map((trial): readonly AlternativeTask[] => {
      const { at, alternative } = itemAt(all, trial);
      return [{ decision: at, alternative }];
    });
    const made = await sharedOut<readonly AlternativeTask[], Effect>({
      ...{ module, shared, tasks, progress: tell },
      here: (task) => here(itemAt(order, task)),
    });
    return all.map((_, trial) => itemAt(made, order.indexOf(trial)));
  }
  const effects: Effect[] = [];
  for (const i of all.keys()) {
    effects.push(await here(i));
    tell(i + 1);
  }
  return effects;
}

/** Places of the trials, those of the last steps first. */
function lateFirst(links: readonly Link[], all: Trials["all"]): readonly number[] {
  const steps = links.map(({ step }) => step);
  const places = all.map(({ decision }) => {
    const target = targetOf(decision, steps);
    return target === null ? steps.length : steps.indexOf(target.step);
  });
  return [...all.keys()].sort((a, b) => itemAt(places, b) - itemAt(places, a));
}

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
