import type { Drawing, FigureBlock } from "./block.js";
import { isInlinePicture } from "./links.js";
import { type MimeBundle, wholeText } from "./notebook.js";
import { sanitised } from "./sanitise.js";

const vegaLite = "application/vnd.vegalite.v5+json";

/** True where the bundle's richest form is a figure. */
export function isFigure(data: MimeBundle): boolean {
  if (data[vegaLite] !== undefined) return true;
  const others = ["text/html", "text/markdown"].some((mime) => data[mime] !== undefined);
  return !others && (data["image/svg+xml"] !== undefined || pictureSource(data) !== null);
}

/** A figure with its words, its drawing and its specification; its number comes later. */
export function figureOf(data: MimeBundle): FigureBlock {
  const spec = data[vegaLite] as VegaLite | undefined;
  return {
    kind: "figure",
    id: "",
    number: 0,
    ...wordsOf(data, spec),
    drawing: drawingOf(data),
    spec: spec ?? null,
  };
}

interface VegaLite {
  readonly title?: unknown;
  readonly usermeta?: {
    readonly banquette?: { readonly title?: unknown; readonly caption?: unknown };
  };
}

function wordsOf(data: MimeBundle, spec: VegaLite | undefined) {
  const own = spec?.usermeta?.banquette;
  const plain = wholeText(data["text/plain"]).trim();
  const title = text(own?.title) || titleText(spec?.title) || plain.split("\n")[0] || "Figure";
  const caption = text(own?.caption) || (spec === undefined ? plain : title);
  return { title, caption };
}

function text(value: unknown): string {
  return typeof value === "string" ? value : "";
}

function titleText(title: unknown): string {
  const words = typeof title === "object" && title !== null ? (title as VegaText).text : title;
  return Array.isArray(words) ? words.join(" ") : text(words);
}

interface VegaText {
  readonly text?: unknown;
}

function drawingOf(data: MimeBundle): Drawing | null {
  const svg = wholeText(data["image/svg+xml"]);
  if (svg !== "") return { kind: "svg", svg: sanitised(svg) };
  const source = pictureSource(data);
  return source === null ? null : { kind: "picture", source };
}

function pictureSource(data: MimeBundle): string | null {
  for (const mime of ["image/png", "image/jpeg"]) {
    const source = `data:${mime};base64,${wholeText(data[mime]).replace(/\s/g, "")}`;
    if (data[mime] !== undefined && isInlinePicture(source)) return source;
  }
  return null;
}
