import { expect } from "vitest";

/** How far `received` may lie from `expected`: give one of the two, and say why in the test. */
export interface Tolerance {
  readonly relative?: number;
  readonly absolute?: number;
}

/** Fails unless `received` lies within the tolerance of `expected`; NaN never does. */
export function expectClose(received: number, expected: number, tolerance: Tolerance): void {
  const allowed = (tolerance.relative ?? 0) * Math.abs(expected) + (tolerance.absolute ?? 0);
  if (!(allowed > 0)) throw new Error("expectClose: give a relative or absolute tolerance above 0");
  const off = Math.abs(received - expected);
  expect(
    off <= allowed,
    `expected ${received} to be within ${allowed} of ${expected}, it is ${off} away`,
  ).toBe(true);
}
