import { escapeHtml } from "../../step/show/html.js";
import type { AppendixDocument } from "../model/appendix-document.js";
import { type CautionEntry, cautionsCount } from "../model/cautions.js";
import { blocksHtml } from "./block-html.js";
import { inlineHtml } from "./inline-html.js";

/** What stands after the body, each under a heading of its own. */
export interface Annex {
  readonly id: string;
  readonly heading: string;
  readonly html: string;
}

/** The annexes that have something to tell. */
export function annexes(document: AppendixDocument): readonly Annex[] {
  return [
    { id: "all-cautions", heading: "All cautions", html: cautionsHtml(document) },
    { id: "all-sources", heading: "Sources", html: sourcesHtml(document) },
    { id: "provenance", heading: "Provenance", html: blocksHtml(document.provenance) },
  ].filter(({ html }) => html !== "");
}

export function annexHtml({ id, heading, html }: Annex): string {
  return `<section class="words annex"><h2 id="${id}">${heading}</h2>\n${html}</section>`;
}

/** What stands at the front of the cautions: how many there are, and where. */
export function cautionsPointer({ cautions }: AppendixDocument): string {
  const count = cautionsCount(cautions);
  if (count === "") return "";
  return (
    `<aside class="front"><p><a href="#all-cautions">${count}</a> stand beside ` +
    "the steps that they belong to, and by section at the end.</p></aside>"
  );
}

function cautionsHtml({ cautions }: AppendixDocument): string {
  const lists = cautions.map(
    ({ heading, kinds }) =>
      `<h3>${escapeHtml(heading)}</h3>\n<ul>${kinds.map(kindHtml).join("\n")}</ul>`,
  );
  return lists.join("\n");
}

function kindHtml([first, ...others]: readonly CautionEntry[]): string {
  if (first === undefined) return "";
  if (others.length === 0) return `<li>${linked(first)}</li>`;
  const items = others.map((entry) => `<li>${linked(entry)}</li>`).join("\n");
  return (
    `<li>${linked(first)}\n<details><summary>and ${others.length} more of this kind</summary>` +
    `<ul>${items}</ul></details></li>`
  );
}

const linked = ({ id, content }: CautionEntry) =>
  `<a href="#${escapeHtml(id)}">${inlineHtml(content).replace(/<\/?a\b[^>]*>/g, "")}</a>`;

function sourcesHtml({ sources }: AppendixDocument): string {
  if (sources.length === 0) return "";
  const items = sources.map(({ source, statements }) => {
    const uses = statements.map((statement) => `<li>${escapeHtml(statement)}</li>`).join("");
    return `<li>${escapeHtml(source)}<ul>${uses}</ul></li>`;
  });
  return `<ul class="sources">${items.join("\n")}</ul>`;
}
