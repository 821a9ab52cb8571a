import { escapeHtml } from "../step/show/html.js";
import { isInlinePicture } from "./links.js";
import { type MimeBundle, wholeText } from "./notebook.js";
import { packed } from "./packed.js";
import { sanitised } from "./sanitise.js";

const vegaLite = "application/vnd.vegalite.v5+json";

export interface NumberedFigure {
  readonly html: string;
  /** What stands in the list of figures. */
  readonly title: string;
}

/** True where the bundle's richest form is a figure. */
export function isFigure(data: MimeBundle): boolean {
  if (data[vegaLite] !== undefined) return true;
  const others = ["text/html", "text/markdown"].some((mime) => data[mime] !== undefined);
  return !others && (data["image/svg+xml"] !== undefined || pictureSource(data) !== null);
}

/**
 * A figure with its number and caption. The drawing stands in the page; a specification stands
 * beside it as data, from which the page's script makes the figure answer to the pointer.
 */
export function figureHtml(data: MimeBundle, number: number): NumberedFigure {
  const spec = data[vegaLite] as VegaLite | undefined;
  const { title, caption } = wordsOf(data, spec);
  const id = `figure-${number}`;
  const json = spec === undefined ? "" : specScript(spec, `${id}-data`);
  const live = spec === undefined ? "" : ` data-spec="${id}-data"`;
  const html = [
    `<figure id="${id}"${live}>`,
    `<div class="drawing">${drawing(data, title, `f${number}-`)}</div>`,
    `<figcaption><b>Figure ${number}.</b> ${escapeHtml(caption)}</figcaption>`,
    `${json}</figure>`,
  ];
  return { html: html.join("\n"), title };
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

function drawing(data: MimeBundle, title: string, prefix: string): string {
  const svg = wholeText(data["image/svg+xml"]);
  if (svg !== "") return withOwnIds(sanitised(svg), prefix, title);
  const source = pictureSource(data);
  if (source !== null) return `<img src="${source}" alt="${escapeHtml(title)}">`;
  return `<p class="missing">The notebook holds no drawing of this figure.</p>`;
}

function pictureSource(data: MimeBundle): string | null {
  for (const mime of ["image/png", "image/jpeg"]) {
    const source = `data:${mime};base64,${wholeText(data[mime]).replace(/\s/g, "")}`;
    if (data[mime] !== undefined && isInlinePicture(source)) return source;
  }
  return null;
}

/** Ids of several drawings must not meet in one page. */
function withOwnIds(svg: string, prefix: string, title: string): string {
  return svg
    .replace(/ id="([^"]*)"/g, (_, id: string) => ` id="${prefix}${id}"`)
    .replace(/url\(#([^)]*)\)/g, (_, id: string) => `url(#${prefix}${id})`)
    .replace(
      / ((?:xlink:)?href)="#([^"]*)"/g,
      (_, name: string, id: string) => ` ${name}="#${prefix}${id}"`,
    )
    .replace("<svg", `<svg role="img" aria-label="${escapeHtml(title)}"`);
}

function specScript(spec: VegaLite, id: string): string {
  return `<script type="application/octet-stream" id="${id}">${packed(JSON.stringify(spec))}</script>`;
}
