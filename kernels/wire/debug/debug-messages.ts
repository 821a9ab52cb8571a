import type { DebuggedCell } from "./debugged-cells.js";

/** A request of the Debug Adapter Protocol, as `debug_request` carries it. */
export interface DebugRequest {
  readonly seq: number;
  readonly command: string;
  readonly arguments: Readonly<Record<string, unknown>>;
}

/** To the main thread: whether its cells are debugged, and that one of them may run. */
export type DebugToMain =
  | { readonly kind: "debug"; readonly isOn: boolean }
  | { readonly kind: "cellReady"; readonly name: string };

/** From the main thread: the cells so far, and one that waits until its breakpoints are set. */
export type DebugFromMain =
  | { readonly kind: "cells"; readonly cells: readonly DebuggedCell[] }
  | { readonly kind: "cell"; readonly cell: DebuggedCell };
