import type { MimeBundle } from "./outputs.js";

export type VegaLite = { readonly $schema: string; readonly [key: string]: unknown };

/** True for a plain object whose `$schema` says that it is a Vega-Lite specification. */
export function isVegaLite(value: unknown): value is VegaLite {
  if (typeof value !== "object" || value === null) return false;
  const { $schema } = value as { readonly $schema?: unknown };
  return typeof $schema === "string" && /\/vega-lite\/v\d/.test($schema);
}

/** The specification itself, for front ends that draw it, with drawings and a text beside it. */
export async function vegaLiteBundle(spec: VegaLite): Promise<MimeBundle> {
  const { renderPng, renderSvg } = await import("../../../lib/index.js");
  const svg = await renderSvg(spec);
  return {
    "application/vnd.vegalite.v5+json": spec,
    "image/svg+xml": svg,
    "image/png": renderPng(svg),
    "text/plain": titleOf(spec),
  };
}

function titleOf({ title }: VegaLite): string {
  const text =
    typeof title === "object" && title !== null ? (title as { text?: unknown }).text : title;
  if (Array.isArray(text)) return text.join(" ");
  return typeof text === "string" ? text : "Figure (Vega-Lite)";
}
