import type { Case } from "./judge.js";

/** Judged surveys by ground and instrument, then by ground, by instrument, and all. */
export function grouped<One extends Case>(
  all: readonly One[],
): ReadonlyMap<string, readonly One[]> {
  const groups = new Map<string, One[]>();
  const keys: ((one: One) => string)[] = [
    ({ ground, instrument }) => `${ground} × ${instrument}`,
    ({ ground }) => `all of ${ground}`,
    ({ instrument }) => `all of ${instrument}`,
    () => "all",
  ];
  for (const key of keys) {
    for (const one of all) {
      const name = key(one);
      groups.set(name, [...(groups.get(name) ?? []), one]);
    }
  }
  return groups;
}
