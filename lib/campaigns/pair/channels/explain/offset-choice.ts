import type { Offset } from "../line/offsets.js";
import type { ScannedStretch } from "../scan/stretch-scan.js";
import type { Explanations } from "./explanations.js";

/** Log odds that a stretch between two ends of walks differs by an offset. */
const TO_AN_END = 1;
/**
 * The same of a long stretch within a walk: there and back to the same height is rare, but over some
 * metres coils are carried unsteadily.
 */
const WITHIN = -6;
const LONG_M = 50;

export interface LineEnds {
  /** Stations at which a walk, an operator or an instrument begins or ends. */
  readonly ends: readonly number[];
  /** Stations. */
  readonly n: number;
  readonly spacing_m: number;
}

/** The offset that explains a stretch better than the ground does; null where none. */
export function offsetOf(
  { first, last }: ScannedStretch,
  { ground, height, zero }: Explanations,
  { ends, n, spacing_m }: LineEnds,
): Offset | null {
  const near = Math.max(4, 0.05 * (last - first + 1));
  const atEnd = [0, n, ...ends].some(
    (end) => Math.abs(end - first) <= near || Math.abs(end - last - 1) <= near,
  );
  const odds = atEnd ? TO_AN_END : WITHIN * Math.min(1, ((last - first + 1) * spacing_m) / LONG_M);
  const best = height.evidence >= zero.evidence ? height : zero;
  if (!(best.evidence + odds > ground)) return null;
  return { first, last, kind: best === height ? "height" : "zero", value: best.value };
}

const MOST_OFFSETS = 8;

/** The offsets and one more; null where that is known already or one too many. */
export function withOffset(known: readonly Offset[], one: Offset | null): readonly Offset[] | null {
  if (one === null || known.length >= MOST_OFFSETS) return null;
  return known.some((other) => alike(other, one)) ? null : [...known, one];
}

/** Whether two stretches share more than half of their length. */
function alike(one: Offset, other: Offset): boolean {
  const shared = Math.min(one.last, other.last) - Math.max(one.first, other.first) + 1;
  return 2 * shared > Math.max(one.last - one.first, other.last - other.first) + 1;
}
