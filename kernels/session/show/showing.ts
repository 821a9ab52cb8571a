import { readFileSync } from "node:fs";
import { type Frame, frameBundle, isFrame } from "./frame-table.js";
import { imageBundle } from "./images.js";
import type { MimeBundle } from "./outputs.js";
import { type VegaLite, vegaLiteSchema } from "./vega-lite.js";

const shows = Symbol.for("Jupyter.display");

/** A value that shows itself as this bundle. */
export interface Shown {
  readonly [key: symbol]: () => MimeBundle | Promise<MimeBundle>;
}

export function shown(bundle: () => MimeBundle | Promise<MimeBundle>): Shown {
  return { [shows]: bundle };
}

export interface ImageOptions {
  /** What the image shows, for those who do not see it. Default: "Image". */
  readonly alt?: string;
}

/** The cells' globals that show a text, bytes or rows as what they are. */
export const showing = {
  html: (text: string) =>
    shown(() => ({ "text/html": String(text), "text/plain": withoutTags(String(text)) })),
  markdown: (text: string) =>
    shown(() => ({ "text/markdown": String(text), "text/plain": String(text) })),
  latex: (text: string) => shown(() => ({ "text/latex": delimited(text), "text/plain": text })),
  svg: (text: string, { alt = "Drawing" }: ImageOptions = {}) => shown(() => svgBundle(text, alt)),
  image: (source: Uint8Array | string, { alt = "Image" }: ImageOptions = {}) =>
    shown(() => {
      const bytes = typeof source === "string" ? readFileSync(source) : source;
      const bundle = imageBundle(bytes, alt);
      if (bundle === null) throw new TypeError("image: must be PNG, JPEG, GIF or WebP");
      return bundle;
    }),
  table: (rows: Frame | readonly Readonly<Record<string, unknown>>[]) =>
    shown(() => frameBundle(isFrame(rows) ? rows : frameOf(rows))),
  vegaLite: (spec: Readonly<Record<string, unknown>>): VegaLite => ({
    $schema: vegaLiteSchema,
    ...spec,
  }),
};

async function svgBundle(text: string, alt: string): Promise<MimeBundle> {
  const { renderPng } = await import("../../../lib/index.js");
  return { "image/svg+xml": titled(text, alt), "image/png": renderPng(text), "text/plain": alt };
}

// A drawing that says itself what it shows keeps that.
function titled(svg: string, alt: string): string {
  if (/<title\b|\baria-label=/.test(svg)) return svg;
  const title = `<title>${alt.replace(/[&<>]/g, (one) => `&#${one.charCodeAt(0)};`)}</title>`;
  return svg.replace(/<svg\b([^>]*?)(\/?)>/, (_, rest: string, closed: string) =>
    closed === "" ? `<svg role="img"${rest}>${title}` : `<svg role="img"${rest}>${title}</svg>`,
  );
}

function withoutTags(text: string): string {
  return text
    .replace(/<(style|script)\b.*?<\/\1>/gis, "")
    .replace(/<[^>]*>/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

// Front ends take the text as it is where it says itself that it is mathematics.
function delimited(text: string): string {
  return /^\s*(\$|\\\(|\\\[|\\begin)/.test(text) ? text : `$\\displaystyle ${text}$`;
}

export function frameOf(rows: readonly Readonly<Record<string, unknown>>[]): Frame {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const values = rows.map((row) => columns.map((column) => row[column] ?? ""));
  return { $isSeries: false, columns, index: rows.map((_, at) => at), values };
}
