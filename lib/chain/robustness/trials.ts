import { itemAt } from "../../numerics/arrays.js";
import { hasThreads } from "../../step/threads/in-thread.js";
import { packed } from "../../step/threads/parcel.js";
import { sharedOut } from "../../step/threads/share-out.js";
import { targetOf } from "../decisions/decided-options.js";
import type { Link } from "../link.js";
import type { Work } from "../work.js";
import { workKinds } from "../work-kinds.js";
import { type AlternativeTask, type Effect, effectOf } from "./alternative-effect.js";

/** What is tried again, and by which links. */
export interface Robustness {
  readonly links: readonly Link[];
  readonly work: Work;
  /** Told how many are done, and how many there are. */
  readonly progress: ((done: number, total: number) => void) | undefined;
  /** The module by which threads find the same links; undefined: all is done in this thread. */
  readonly module?: URL | undefined;
}

/** Alternatives that are taken together. */
export type Trial = readonly AlternativeTask[];

/**
 * What each trial makes different. This thread begins with those of late steps, which rest on
 * what it remembers of the work; other threads, where there are, with those of early steps, which
 * make all anew.
 */
export async function effectsOf(
  { links, work, module, progress }: Robustness,
  trials: readonly Trial[],
): Promise<readonly Effect[]> {
  const tell = (done: number) => progress?.(done, trials.length);
  const here = (trial: Trial) =>
    effectOf(
      links,
      work,
      trial.map(({ decision, alternative }) => ({
        decision: itemAt(work.decisions, decision),
        alternative,
      })),
    );
  const shared = module !== undefined && hasThreads() ? packed(work, workKinds) : null;
  if (module !== undefined && shared !== null) {
    const order = lateFirst({ links, work }, trials);
    const tasks = order.map((at) => itemAt(trials, at));
    const made = await sharedOut<Trial, Effect>({
      ...{ module, shared, tasks, progress: tell },
      here: (task) => here(itemAt(tasks, task)),
    });
    return trials.map((_, at) => itemAt(made, order.indexOf(at)));
  }
  const effects: Effect[] = [];
  for (const trial of trials) {
    effects.push(await here(trial));
    tell(effects.length);
  }
  return effects;
}

/** Places of the trials, those whose first step is the last one first. */
function lateFirst(
  { links, work }: Pick<Robustness, "links" | "work">,
  trials: readonly Trial[],
): readonly number[] {
  const steps = links.map(({ step }) => step);
  const places = trials.map((trial) => {
    const own = trial.map(({ decision }) => {
      const target = targetOf(itemAt(work.decisions, decision), steps);
      return target === null ? steps.length : steps.indexOf(target.step);
    });
    return Math.min(...own);
  });
  return [...trials.keys()].sort((a, b) => itemAt(places, b) - itemAt(places, a));
}
