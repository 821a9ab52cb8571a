import { escapeHtml } from "../../step/show/html.js";
import type { AppendixDocument, Part } from "../model/appendix-document.js";
import { headingText } from "../model/document-of.js";
import { type Annex, annexes, annexHtml, cautionsPointer } from "./annexes-html.js";
import { blocksHtml } from "./block-html.js";
import { drawingCode } from "./drawing-code.js";
import { inlineHtml } from "./inline-html.js";
import { pageCss } from "./page-css.js";
import { pageScript } from "./page-script.js";
import { placeScript } from "./place-script.js";

// Nothing may be fetched from anywhere; scripts and styles are those inside the page. Vega turns
// its expressions into functions, which needs 'unsafe-eval'.
const policy =
  "default-src 'none'; img-src data:; style-src 'unsafe-inline'; " +
  "script-src 'unsafe-inline' 'unsafe-eval'; base-uri 'none'; form-action 'none'";

/** The document as one self-contained page. */
export function pageHtml(document: AppendixDocument): string {
  const live = document.figures.some(({ spec }) => spec !== null);
  const after = annexes(document);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(document.title)}</title>
<style>
${pageCss}
</style>
</head>
<body>
<a class="skip" href="#content">To the text</a>
<div class="sheet">
<header class="title"><h1>${inlineHtml(document.titleContent)}</h1>
${blocksHtml(document.titleBlock)}</header>
${contentsHtml(document, after)}
<main id="content">
<section class="words">${blocksHtml(document.intro)}</section>
${inBriefHtml(document)}
${cautionsPointer(document)}
${document.body.map(partHtml).join("\n")}
${after.map(annexHtml).join("\n")}
</main>
</div>
<div id="tip"></div>
${live ? codeScript() : ""}
<script>${pageScript}</script>
<script>${placeScript}</script>
</body>
</html>
`;
}

const partClasses: Readonly<Record<Part["role"], string>> = {
  words: "words",
  cell: "cell",
  silent: "cell silent",
};

function partHtml({ role, blocks }: Part): string {
  if (blocks.length === 0) return "";
  return `<section class="${partClasses[role]}">${blocksHtml(blocks)}</section>`;
}

function codeScript(): string {
  return `<script type="application/octet-stream" id="drawing-code">${drawingCode()}</script>`;
}

function inBriefHtml({ inBrief }: AppendixDocument): string {
  if (inBrief.length === 0) return "";
  const heading = `<section class="words"><h2 id="in-brief">In brief</h2></section>`;
  return `${heading}\n<section class="cell">${blocksHtml(inBrief)}</section>`;
}

function contentsHtml(
  { headings, figures, inBrief }: AppendixDocument,
  after: readonly Annex[],
): string {
  const brief = inBrief.length === 0 ? [] : [{ id: "in-brief", heading: "In brief" }];
  const own = (annex: { readonly id: string; readonly heading: string }) =>
    `<li><a href="#${annex.id}">${annex.heading}</a></li>`;
  const sections = headings.map((heading) => {
    const deeper = heading.depth > 2 ? ' class="deeper"' : "";
    const { id } = heading;
    return `<li${deeper}><a href="#${escapeHtml(id)}">${escapeHtml(headingText(heading))}</a></li>`;
  });
  const drawn = figures.map(
    ({ id, title, number }) => `<li><a href="#${id}">${number}. ${escapeHtml(title)}</a></li>`,
  );
  const parts = [
    list("Contents", [...brief.map(own), ...sections, ...after.map(own)]),
    list("Figures", drawn),
  ].filter((part) => part !== "");
  return parts.length === 0
    ? ""
    : `<nav class="contents" aria-label="Contents">${parts.join("\n")}</nav>`;
}

function list(heading: string, items: readonly string[]): string {
  return items.length === 0 ? "" : `<p>${heading}</p><ol>${items.join("\n")}</ol>`;
}
