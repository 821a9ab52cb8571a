import { type Fault, quoted } from "../numerics/step-error.js";

/** A rule for a number, to be read after "must be". Written so that NaN breaks it. */
export interface Rule {
  readonly code: string;
  readonly expected: string;
  readonly holds: (value: number) => boolean;
}

export const POSITIVE: Rule = {
  code: "not-positive",
  expected: "a finite number above 0",
  holds: (value) => value > 0 && value < Infinity,
};

export const NOT_NEGATIVE: Rule = {
  code: "negative",
  expected: "a finite number, 0 or above",
  holds: (value) => value >= 0 && value < Infinity,
};

/** Adds a fault where the value is not a number that keeps the rule. */
export function checkNumber(faults: Fault[], path: string, [value, rule]: [unknown, Rule]): void {
  if (typeof value === "number" && rule.holds(value)) return;
  faults.push({ code: rule.code, path, expected: rule.expected, received: quoted(value) });
}

/** Adds one fault for all entries of a list that break the rule: the first, and how many. */
export function checkList(faults: Fault[], path: string, [list, rule]: [unknown, Rule]): void {
  if (!isList(list)) {
    faults.push({
      code: "not-a-list",
      path,
      expected: "a list of numbers",
      received: quoted(list),
    });
    return;
  }
  const bad = (value: unknown) => !(typeof value === "number" && rule.holds(value));
  const offenders = Array.from(list).filter(bad).length;
  if (offenders === 0) return;
  const first = Array.from(list).findIndex(bad);
  const hint = offenders > 1 ? { hint: `and ${offenders - 1} more of ${list.length}` } : {};
  faults.push({
    code: rule.code,
    path: `${path}[${first}]`,
    expected: rule.expected,
    received: quoted(list[first]),
    ...hint,
  });
}

/** Adds a fault where a layered earth has no layer, or not one thickness fewer than layers. */
export function checkLayerCount(
  faults: Fault[],
  path: string,
  [layers, thicknesses]: [unknown, unknown],
): void {
  if (!isList(layers) || !isList(thicknesses)) return;
  if (layers.length > 0 && thicknesses.length === layers.length - 1) return;
  faults.push({
    code: "layer-count",
    path,
    expected: "one entry fewer than the layers, which are one at least",
    received: `${thicknesses.length} for ${layers.length} layers`,
  });
}

function isList(list: unknown): list is ArrayLike<unknown> {
  return Array.isArray(list) || (ArrayBuffer.isView(list) && !(list instanceof DataView));
}
