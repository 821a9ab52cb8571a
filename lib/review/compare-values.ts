import type { ValueAt } from "./review.js";

/** True where two numbers differ by at most that share of the greater. */
export function isSameNumber(was: number, is: number, tolerance: number): boolean {
  return was === is || Math.abs(was - is) <= tolerance * Math.max(Math.abs(was), Math.abs(is));
}

/**
 * Every place at which two JSON values differ, numbers beyond the tolerance. Lists of two lengths
 * are one difference: their entries cannot be set side by side.
 */
export function valueDifferences(was: unknown, is: unknown, tolerance: number): ValueAt[] {
  const found: ValueAt[] = [];
  compare({ was, is, path: "" }, { tolerance, found });
  return found;
}

interface Into {
  readonly tolerance: number;
  readonly found: ValueAt[];
}

function compare({ was, is, path }: ValueAt, into: Into): void {
  if (Object.is(was, is)) return;
  if (typeof was === "number" && typeof is === "number") {
    if (!isSameNumber(was, is, into.tolerance)) into.found.push({ path, was, is });
  } else if (Array.isArray(was) && Array.isArray(is)) {
    compareLists(was, is, { path, into });
  } else if (isPlain(was) && isPlain(is)) {
    const names = new Set([...Object.keys(was), ...Object.keys(is)]);
    for (const name of names) {
      const step = path === "" ? name : `${path}.${name}`;
      compare({ was: was[name], is: is[name], path: step }, into);
    }
  } else {
    into.found.push({ path, was: short(was), is: short(is) });
  }
}

function compareLists(
  was: readonly unknown[],
  is: readonly unknown[],
  { path, into }: { readonly path: string; readonly into: Into },
): void {
  if (was.length !== is.length) {
    into.found.push({ path, was: `${was.length} entries`, is: `${is.length} entries` });
    return;
  }
  for (const [i, one] of was.entries()) {
    compare({ was: one, is: is[i], path: `${path}[${i}]` }, into);
  }
}

function isPlain(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** A value as a report shows it; null for what is not there. */
function short(value: unknown): unknown {
  if (value === undefined) return null;
  if (typeof value === "string") return value.slice(0, 200);
  return typeof value === "object" && value !== null ? JSON.stringify(value).slice(0, 200) : value;
}
