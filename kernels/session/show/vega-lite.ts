import { types } from "node:util";
import { DataNotLoaded, loadFigureData } from "./figure-data.js";
import type { MimeBundle } from "./outputs.js";

export const vegaLiteSchema = "https://vega.github.io/schema/vega-lite/v5.json";

export type VegaLite = { readonly $schema: string; readonly [key: string]: unknown };

/**
 * A plain object that is a Vega-Lite specification, by its `$schema` or, without one, by what it holds;
 * null for others.
 */
export function vegaLiteOf(value: unknown): VegaLite | null {
  if (typeof value !== "object" || value === null) return null;
  const { $schema } = value as { readonly $schema?: unknown };
  if ($schema === undefined) return isDrawn(value) ? { $schema: vegaLiteSchema, ...value } : null;
  const isKnown = typeof $schema === "string" && /\/vega-lite\/v\d/.test($schema);
  return isKnown ? (value as VegaLite) : null;
}

// One view (`mark` with `encoding`), or several joined.
function isDrawn(value: object): boolean {
  if (types.isProxy(value) || Object.getPrototypeOf(value) !== Object.prototype) return false;
  return isView(value, false);
}

function isView(value: unknown, isEncoded: boolean): boolean {
  if (!isPlain(value)) return false;
  const { mark, encoding, layer, hconcat, vconcat, concat } = value as Record<string, unknown>;
  const encoded = isEncoded || isPlain(encoding);
  const views = layer ?? hconcat ?? vconcat ?? concat;
  if (!Array.isArray(views)) return encoded && isMark(mark);
  return views.length > 0 && views.every((one) => isView(one, encoded));
}

function isPlain(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isMark(mark: unknown): boolean {
  const type: unknown = isPlain(mark) ? (mark as { type?: unknown }).type : mark;
  return typeof type === "string" && marks.has(type);
}

/** Source: Vega-Lite 5, "Mark". */
const marks: ReadonlySet<string> = new Set(
  "arc area bar boxplot circle errorband errorbar geoshape image line point rect rule square text tick trail".split(
    " ",
  ),
);

/**
 * The specification itself, for front ends that draw it, with drawings and a text beside it. Where its
 * data cannot be had here, there are no drawings, and a second bundle says why. `isWanted` is asked
 * before it is drawn: a cell that is interrupted may have begun thousands.
 */
export async function vegaLiteBundles(
  spec: VegaLite,
  isWanted: () => boolean,
): Promise<readonly MimeBundle[]> {
  const { renderPng, renderSvg } = await import("../../../lib/index.js");
  if (!isWanted()) return [];
  const load = (address: string) => loadFigureData(address, process.cwd());
  const own = { "application/vnd.vegalite.v5+json": spec, "text/plain": titleOf(spec) };
  try {
    const svg = await renderSvg(spec, { load });
    return [{ ...own, "image/svg+xml": svg, "image/png": renderPng(svg) }];
  } catch (error) {
    if (!(error instanceof DataNotLoaded)) throw error;
    const text = `The figure "${titleOf(spec)}" is not drawn here: ${error.message}`;
    return [own, { "text/plain": text }];
  }
}

function titleOf({ title }: VegaLite): string {
  const text =
    typeof title === "object" && title !== null ? (title as { text?: unknown }).text : title;
  if (Array.isArray(text)) return text.join(" ");
  return typeof text === "string" ? text : "Figure (Vega-Lite)";
}
