import { inspect, types } from "node:util";
import { frameBundle, isFrame } from "./frame-table.js";
import type { MimeBundle } from "./outputs.js";
import { isVegaLite, vegaLiteBundle } from "./vega-lite.js";

const severalBundles = Symbol.for("banquette.displays");
const oneBundle = Symbol.for("Jupyter.display");

/** Longest text shown for a value, lines. */
const shownLines = 60;

/**
 * The MIME bundles by which a value shows itself; none for null and undefined. Promises are awaited.
 * In this order: the value's own list of bundles, its own single bundle, a data frame as a table, a
 * Vega-Lite specification as a figure, anything else as text.
 */
export async function bundlesOf(value: unknown): Promise<readonly MimeBundle[]> {
  if (value instanceof Promise) return bundlesOf(await (value as Promise<unknown>));
  if (value === null || value === undefined) return [];
  const several = ownMethod(value, severalBundles);
  if (several !== null) return (await several()) as readonly MimeBundle[];
  const one = ownMethod(value, oneBundle);
  if (one !== null) return [(await one()) as MimeBundle];
  if (isFrame(value)) return [frameBundle(value)];
  if (isVegaLite(value)) return [await vegaLiteBundle(value)];
  return [{ "text/plain": plainText(value) }];
}

function ownMethod(value: unknown, name: symbol): (() => unknown) | null {
  if (typeof value !== "object" && typeof value !== "function") return null;
  // A module or a proxy may answer to any name: only a function counts.
  const method = (value as Record<symbol, unknown>)[name];
  return typeof method === "function" ? () => method.call(value) as unknown : null;
}

/** A value as text, shortened: 20 elements of a list, 4 levels, 60 lines. */
export function plainText(value: unknown): string {
  const typed = ArrayBuffer.isView(value) || types.isAnyArrayBuffer(value);
  const text = inspect(value, {
    depth: 4,
    maxArrayLength: 20,
    maxStringLength: 2000,
    breakLength: 100,
    showHidden: false,
    compact: typed ? 20 : 3,
  });
  const lines = text.split("\n");
  if (lines.length <= shownLines) return text;
  const more = lines.length - shownLines;
  return [...lines.slice(0, shownLines), `… ${more} more lines`].join("\n");
}
