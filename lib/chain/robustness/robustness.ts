import { itemAt } from "../../numerics/arrays.js";
import { decidedText } from "../../step/decision.js";
import { defineStep, runLongStep } from "../../step/define-step.js";
import { heard } from "../../step/heard-progress.js";
import type { StepResult } from "../../step/step-result.js";
import { decisionTables } from "../decisions/decision-table.js";
import type { RobustnessFinding } from "../findings.js";
import { effectsOf, type Robustness } from "./trials.js";

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
  const { work, progress } = given;
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
  const trials = all.map(({ at, alternative }) => [{ decision: at, alternative }]);
  const effects = await effectsOf({ ...given, progress: tell }, trials);
  return all.map(({ decision, alternative }, i) => ({
    decision: decision.name,
    chosen: decidedText(decision.value),
    alternative: decidedText(alternative),
    ...itemAt(effects, i),
  }));
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
