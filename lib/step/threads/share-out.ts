import { setImmediate as turn } from "node:timers/promises";
import { claimFront, claimsOf, closeClaims } from "./claims.js";
import type { Drained } from "./drain.js";
import { inThread } from "./in-thread.js";
import { threadCount } from "./thread-count.js";

export interface SharedOut<Task, Value> {
  /** The module whose `answer` makes a task in another thread; see `Answer`. */
  readonly module: URL;
  /** What all tasks rest on. */
  readonly shared: unknown;
  readonly tasks: readonly Task[];
  /** A task in this thread. */
  readonly here: (task: number) => Promise<Value>;
  /** Told how many are done. */
  readonly progress: (done: number) => void;
}

/**
 * Makes tasks here, the first ones first, and in the pool's threads, the last ones first, until they
 * meet. The answers stand in the tasks' order, whoever made them.
 */
export async function sharedOut<Task, Value>(
  work: SharedOut<Task, Value>,
): Promise<readonly Value[]> {
  const { module, shared, tasks, here, progress } = work;
  const claims = claimsOf(tasks.length);
  const values: Value[] = new Array(tasks.length);
  const elsewhere = Array.from({ length: Math.min(threadCount(), tasks.length) - 1 }, () => 0);
  let made = 0;
  const tell = () => progress(elsewhere.reduce((sum, done) => sum + done, made));
  const drains = elsewhere.map((_, thread) =>
    inThread<Drained>({
      module: drainModule,
      shared,
      task: { module: module.href, tasks, claims },
      here: async () => [],
      progress: (done) => {
        elsewhere[thread] = done;
        tell();
      },
    }),
  );
  const others = Promise.all(drains);
  others.catch(() => closeClaims(claims));
  try {
    for (let task = 0; claimFront(claims); task++) {
      values[task] = await here(task);
      made += 1;
      // What threads have sent is heard between tasks.
      await turn();
      tell();
    }
  } finally {
    closeClaims(claims);
  }
  for (const [task, value] of (await others).flat()) values[task] = value as Value;
  return values;
}

const drainModule = new URL("./drain.js", import.meta.url);
