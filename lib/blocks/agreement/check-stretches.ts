import { type Fault, quoted } from "../../step/step-error.js";
import type { ClassedStretch } from "./agreement.js";

/** Every fault of a segmentation: no, empty or overlapping stretches, classes without a name. */
export function stretchFaults(stretches: readonly ClassedStretch[], path: string): Fault[] {
  if (stretches.length === 0) {
    return [{ code: "empty", path, expected: "at least one stretch", received: "none" }];
  }
  return stretches.flatMap((stretch, i) => [
    ...rangeFault(stretch, `${path}[${i}]`),
    ...overlapFault(stretch, stretches[i - 1], `${path}[${i}].from_m`),
    ...classFault(stretch, `${path}[${i}].class`),
  ]);
}

function rangeFault({ from_m, to_m }: ClassedStretch, path: string): Fault[] {
  if (Number.isFinite(from_m) && to_m > from_m && to_m < Number.POSITIVE_INFINITY) return [];
  const received = `from ${quoted(from_m)} to ${quoted(to_m)}`;
  return [{ code: "stretch", path, expected: "to_m above from_m", received }];
}

function overlapFault(
  { from_m }: ClassedStretch,
  before: ClassedStretch | undefined,
  path: string,
): Fault[] {
  if (before === undefined || from_m >= before.to_m - 1e-9) return [];
  const expected = `at or after the end of the stretch before (${before.to_m} m)`;
  return [{ code: "overlap", path, expected, received: quoted(from_m) }];
}

function classFault({ class: name }: ClassedStretch, path: string): Fault[] {
  if (typeof name === "string") return [];
  return [{ code: "class", path, expected: "a name", received: quoted(name) }];
}
