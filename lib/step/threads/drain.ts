// In a thread: tasks that are shared out, as long as there are any.
import { type Claims, claimBack } from "./claims.js";
import type { Answer } from "./thread-messages.js";

export interface Drain {
  readonly module: string;
  readonly tasks: readonly unknown[];
  readonly claims: Claims;
}

/** Answers by the task's place. */
export type Drained = readonly (readonly [task: number, value: unknown])[];

export async function answer(
  shared: unknown,
  { module, tasks, claims }: Drain,
  progress: (done: number, total: number) => void,
): Promise<Drained> {
  const loaded = (await import(module)) as { readonly answer: Answer<unknown, unknown, unknown> };
  const made: [number, unknown][] = [];
  for (let at = claimBack(claims); at !== null; at = claimBack(claims)) {
    made.push([at, await loaded.answer(shared, tasks[at], () => undefined)]);
    progress(made.length, claims.count);
  }
  return made;
}
