import type { SentOutput } from "../session/show/outputs.js";

/** To the worker: run this cell. */
export interface RunCell {
  readonly kind: "run";
  readonly source: string;
}

/** From the worker: ready, an output of the running cell, the cell's end, a fault of the kernel. */
export type FromWorker =
  | { readonly kind: "ready" }
  | { readonly kind: "output"; readonly output: SentOutput }
  | { readonly kind: "done"; readonly ok: boolean; readonly executionCount: number }
  | { readonly kind: "fault"; readonly text: string };
