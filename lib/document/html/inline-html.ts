import { escapeHtml } from "../../step/show/html.js";
import type { Inline, Marked } from "../model/inline.js";

/** Runs of text as HTML. */
export function inlineHtml(content: readonly Inline[]): string {
  return content.map(runHtml).join("");
}

function runHtml(inline: Inline): string {
  if (typeof inline === "string") return escapeHtml(inline);
  switch (inline.kind) {
    case "break":
      return "<br>";
    case "picture":
      return `<img src="${escapeHtml(inline.source)}" alt="${escapeHtml(inline.alt)}">`;
    case "link":
      return `<a href="${escapeHtml(inline.to)}">${inlineHtml(inline.content)}</a>`;
    default:
      return markedHtml(inline);
  }
}

const tags: Readonly<Record<Marked["mark"], readonly [open: string, close: string]>> = {
  strong: ["<strong>", "</strong>"],
  emphasis: ["<em>", "</em>"],
  code: ["<code>", "</code>"],
  small: ["<small>", "</small>"],
  sub: ["<sub>", "</sub>"],
  sup: ["<sup>", "</sup>"],
  missing: ['<span class="missing">', "</span>"],
  source: ['<span class="bq-source">', "</span>"],
};

function markedHtml({ mark, content }: Marked): string {
  const [open, close] = tags[mark];
  return `${open}${inlineHtml(content)}${close}`;
}
