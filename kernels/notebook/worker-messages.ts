import type { SentOutput } from "../session/show/outputs.js";

/** To the worker: run this cell. */
export interface RunCell {
  readonly kind: "run";
  readonly source: string;
}

/** How much of a long call within the running cell is done. */
export interface CallProgress {
  /** Name of the call, such as "estimateDepthSlices". */
  readonly what: string;
  readonly done: number;
  readonly total: number;
}

/**
 * From the worker: ready, an output of the running cell, how far it is, its end, a fault of the
 * kernel.
 */
export type FromWorker =
  | { readonly kind: "ready" }
  | { readonly kind: "output"; readonly output: SentOutput }
  | ({ readonly kind: "progress" } & CallProgress)
  | { readonly kind: "done"; readonly ok: boolean; readonly executionCount: number }
  | { readonly kind: "fault"; readonly text: string };
