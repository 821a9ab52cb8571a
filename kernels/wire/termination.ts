import { Session as Inspector } from "node:inspector";
import { allowTermination } from "./signals.js";

const asked = "banquette.terminate";

/** Evaluated in the thread that has called `offerTermination`: ends what it computes, if it may. */
export const terminateExpression = `process[Symbol.for("${asked}")]()`;

/**
 * Lets another thread's inspector end what this one computes. This one decides, in the middle of what
 * it computes, so that nothing ends which began meanwhile: not while `shielded` is 1. What a cell has
 * turned on since it began is turned off first (`allowTermination`).
 */
export function offerTermination(shielded: Int32Array): void {
  const inspector = new Inspector();
  inspector.connect();
  const value = () => {
    if (Atomics.load(shielded, 0) === 1) return;
    allowTermination();
    inspector.post("Runtime.terminateExecution");
  };
  Object.defineProperty(process, Symbol.for(asked), { value });
}
