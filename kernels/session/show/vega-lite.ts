import { DataNotLoaded, loadFigureData } from "./figure-data.js";
import type { MimeBundle } from "./outputs.js";

export const vegaLiteSchema = "https://vega.github.io/schema/vega-lite/v5.json";

export type VegaLite = { readonly $schema: string; readonly [key: string]: unknown };

/** True for a plain object whose `$schema` says that it is a Vega-Lite specification. */
export function isVegaLite(value: unknown): value is VegaLite {
  if (typeof value !== "object" || value === null) return false;
  const { $schema } = value as { readonly $schema?: unknown };
  return typeof $schema === "string" && /\/vega-lite\/v\d/.test($schema);
}

/**
 * The specification itself, for front ends that draw it, with drawings and a text beside it. Where its
 * data cannot be had here, there are no drawings, and a second bundle says why.
 */
export async function vegaLiteBundles(spec: VegaLite): Promise<readonly MimeBundle[]> {
  const { renderPng, renderSvg } = await import("../../../lib/index.js");
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
