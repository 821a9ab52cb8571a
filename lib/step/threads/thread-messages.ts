import type { Fault } from "../step-error.js";

/** To a thread: one call of a module's `answer`. */
export interface Asked {
  readonly module: string;
  /** Given where the thread does not hold it yet; it is kept until another one comes. */
  readonly shared?: { readonly value: unknown };
  readonly task: unknown;
}

/** From a thread: how far it is, its answer, or what was thrown. */
export type FromThread =
  | { readonly kind: "progress"; readonly done: number; readonly total: number }
  | { readonly kind: "answer"; readonly value: unknown }
  | { readonly kind: "refused"; readonly step: string; readonly faults: readonly Fault[] }
  | { readonly kind: "fault"; readonly error: unknown };

/** What a module that threads load exports as `answer`. */
export type Answer<Shared, Task, Value> = (
  shared: Shared,
  task: Task,
  progress: (done: number, total: number) => void,
) => Promise<Value>;
