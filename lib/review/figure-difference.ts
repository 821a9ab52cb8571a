import { valueDifferences } from "./compare-values.js";
import type { FigureDifference } from "./review.js";

/** Values shown of a figure that differs. */
const shown = 5;

/** A figure's two specifications, by their data and not by their drawing; null where they agree. */
export function figureDifference(
  [was, is]: readonly [stored: unknown, again: unknown],
  { tolerance, file }: { readonly tolerance: number; readonly file: string },
): FigureDifference | null {
  const differences = valueDifferences(was, is, tolerance);
  if (differences.length === 0) return null;
  const { id = "", title = "" } = wordsOf(is);
  return {
    file,
    figure: String(id),
    title: String(title),
    values: differences.slice(0, shown),
    count: differences.length,
  };
}

function wordsOf(spec: unknown): { readonly id?: unknown; readonly title?: unknown } {
  const { usermeta } = (spec ?? {}) as { usermeta?: { banquette?: object } };
  return usermeta?.banquette ?? {};
}
