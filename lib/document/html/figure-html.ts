import { escapeHtml } from "../../step/show/html.js";
import type { FigureBlock } from "../model/block.js";
import { packed } from "./packed.js";

/**
 * A figure with its number and caption. The drawing stands in the page; a specification stands
 * beside it as data, from which the page's script makes the figure answer to the pointer.
 */
export function figureHtml(figure: FigureBlock): string {
  const { id, number, caption, spec } = figure;
  const json = spec === null ? "" : specScript(spec, `${id}-data`);
  const live = spec === null ? "" : ` data-spec="${id}-data"`;
  const name = id === "" ? "" : ` id="${id}"`;
  const counted = number === 0 ? "" : `<b>Figure ${number}.</b> `;
  return [
    `<figure${name}${live}>`,
    `<div class="drawing">${drawingHtml(figure)}</div>`,
    `<figcaption>${counted}${escapeHtml(caption)}</figcaption>`,
    `${json}</figure>`,
  ].join("\n");
}

function drawingHtml({ drawing, title, number }: FigureBlock): string {
  if (drawing === null)
    return '<p class="missing">The notebook holds no drawing of this figure.</p>';
  if (drawing.kind === "svg") return withOwnIds(drawing.svg, `f${number}-`, title);
  return `<img src="${drawing.source}" alt="${escapeHtml(title)}">`;
}

/** Ids of several drawings must not meet in one page; they are short, as they stand there often. */
function withOwnIds(svg: string, prefix: string, title: string): string {
  const names = new Map<string, string>();
  const own = (id: string) => {
    const name = names.get(id) ?? `${prefix}${names.size + 1}`;
    names.set(id, name);
    return name;
  };
  return svg
    .replaceAll(" />", "/>")
    .replace(/ id="([^"]*)"/g, (_, id: string) => ` id="${own(id)}"`)
    .replace(/url\(#([^)]*)\)/g, (_, id: string) => `url(#${own(id)})`)
    .replace(
      / ((?:xlink:)?href)="#([^"]*)"/g,
      (_, name: string, id: string) => ` ${name}="#${own(id)}"`,
    )
    .replace("<svg", `<svg role="img" aria-label="${escapeHtml(title)}"`);
}

function specScript(spec: unknown, id: string): string {
  const text = packed(JSON.stringify(spec));
  return `<script type="application/octet-stream" id="${id}">${text}</script>`;
}
