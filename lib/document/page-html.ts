import { escapeHtml } from "../step/show/html.js";
import type { CautionEntry } from "./cautions.js";
import { cautionsAnnex, cautionsPointer } from "./cautions-annex.js";
import { drawingCode } from "./drawing-code.js";
import type { NumberedFigure } from "./figure-html.js";
import type { Heading } from "./markdown.js";
import { pageCss } from "./page-css.js";
import { pageScript } from "./page-script.js";

export interface PageParts {
  readonly title: string;
  /** The title's heading as HTML; "" for the plain title. */
  readonly heading: string;
  readonly intro: string;
  /** What stands under the title; "" for nothing. */
  readonly titleBlock: string;
  /** What stands under "In brief"; "" for nothing. */
  readonly inBrief: string;
  readonly body: string;
  readonly headings: readonly Heading[];
  readonly figures: readonly NumberedFigure[];
  readonly cautions: readonly CautionEntry[];
}

// Nothing may be fetched from anywhere; scripts and styles are those inside the page. Vega turns
// its expressions into functions, which needs 'unsafe-eval'.
const policy =
  "default-src 'none'; img-src data:; style-src 'unsafe-inline'; " +
  "script-src 'unsafe-inline' 'unsafe-eval'; base-uri 'none'; form-action 'none'";

export function pageHtml(parts: PageParts): string {
  const live = parts.figures.some(({ html }) => html.includes("data-spec="));
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(parts.title)}</title>
<style>
${pageCss}
</style>
</head>
<body>
<div class="sheet">
<header class="title">${parts.heading || `<h1>${escapeHtml(parts.title)}</h1>`}
${parts.titleBlock}</header>
${contentsHtml(parts)}
<main>
${parts.intro}
${inBriefHtml(parts)}
${cautionsPointer(parts.cautions)}
${parts.body}
${cautionsAnnex(parts.cautions)}
</main>
</div>
<div id="tip"></div>
${live ? codeScript() : ""}
<script>${pageScript}</script>
</body>
</html>
`;
}

function codeScript(): string {
  return `<script type="application/octet-stream" id="drawing-code">${drawingCode()}</script>`;
}

function inBriefHtml({ inBrief }: PageParts): string {
  if (inBrief === "") return "";
  return `<section class="words"><h2 id="in-brief">In brief</h2></section>\n${inBrief}`;
}

function contentsHtml({ headings, figures, inBrief, cautions }: PageParts): string {
  const brief = inBrief === "" ? [] : ['<li><a href="#in-brief">In brief</a></li>'];
  const annex = cautions.length === 0 ? [] : ['<li><a href="#all-cautions">All cautions</a></li>'];
  const sections = headings.map(({ id, depth, text }) => {
    const deeper = depth > 2 ? ' class="deeper"' : "";
    return `<li${deeper}><a href="#${escapeHtml(id)}">${escapeHtml(text)}</a></li>`;
  });
  const drawn = figures.map(
    ({ title }, i) => `<li><a href="#figure-${i + 1}">${i + 1}. ${escapeHtml(title)}</a></li>`,
  );
  const parts = [
    list("Contents", [...brief, ...sections, ...annex]),
    list("Figures", drawn),
  ].filter((part) => part !== "");
  return parts.length === 0 ? "" : `<nav class="contents">${parts.join("\n")}</nav>`;
}

function list(heading: string, items: readonly string[]): string {
  return items.length === 0 ? "" : `<p>${heading}</p><ol>${items.join("\n")}</ol>`;
}
