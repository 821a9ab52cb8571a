import type { GroundTerm } from "./ground-fit.js";

/** A step up by one before sample `at`. */
export function stepTerm(n: number, at: number, price: number): GroundTerm {
  return { column: new Float64Array(n).fill(1, at), from: at, price };
}

/** A rise by one from sample `from` to sample `to`, straight. */
export function rampTerm(
  n: number,
  [from, to]: readonly [number, number],
  price: number,
): GroundTerm {
  const column = Float64Array.from({ length: n }, (_, i) =>
    Math.min(1, Math.max(0, (i - from) / (to - from))),
  );
  return { column, from: Math.max(0, Math.ceil(from)), price };
}
