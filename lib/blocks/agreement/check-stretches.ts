import { type Fault, quoted } from "../../step/step-error.js";
import type { ClassedStretch } from "./agreement.js";

/** Every fault of a segmentation: none given, empty or overlapping stretches, classes without a name. */
export function stretchFaults(stretches: readonly ClassedStretch[], path: string): Fault[] {
  if (stretches.length === 0) {
    return [{ code: "empty", path, expected: "at least one stretch", received: "none" }];
  }
  return stretches.flatMap(({ from_m, to_m, class: name }, i) => {
    const faults: Fault[] = [];
    if (!(Number.isFinite(from_m) && to_m > from_m && to_m < Number.POSITIVE_INFINITY)) {
      const received = `from ${quoted(from_m)} to ${quoted(to_m)}`;
      faults.push({
        code: "stretch",
        path: `${path}[${i}]`,
        expected: "to_m above from_m",
        received,
      });
    }
    if (i > 0 && !(from_m >= stretches[i - 1]!.to_m - 1e-9)) {
      const expected = `at or after the end of the stretch before (${stretches[i - 1]!.to_m} m)`;
      faults.push({
        code: "overlap",
        path: `${path}[${i}].from_m`,
        expected,
        received: quoted(from_m),
      });
    }
    if (typeof name !== "string") {
      faults.push({
        code: "class",
        path: `${path}[${i}].class`,
        expected: "a name",
        received: quoted(name),
      });
    }
    return faults;
  });
}
