import { expect } from "vitest";
import { StepError } from "../../lib/step/step-error.js";

/** Expects a call to throw a StepError that names a fault: "code path must be rule, got value". */
export function expectFault(call: () => unknown, text: string): void {
  const faults = faultsOf(call);
  expect(faults, faults.join("\n")).toContain(text);
}

/** The faults of the StepError that a call throws, each as "code path must be rule, got value". */
export function faultsOf(call: () => unknown): readonly string[] {
  try {
    call();
  } catch (error) {
    if (!(error instanceof StepError)) throw error;
    const lines = error.message.split("\n");
    return error.faults.map(
      ({ code }, i) => `${code} ${(lines[i] ?? "").slice(error.step.length + 2)}`,
    );
  }
  return [];
}
