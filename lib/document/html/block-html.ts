import { escapeHtml } from "../../step/show/html.js";
import type {
  Block,
  CautionBlock,
  Code,
  Folded,
  Group,
  Heading,
  List,
  Paragraph,
  Preformatted,
} from "../model/block.js";
import type { Inline } from "../model/inline.js";
import { figureHtml } from "./figure-html.js";
import { inlineHtml } from "./inline-html.js";
import { tableBlockHtml } from "./table-html.js";

/** Blocks as HTML, in their order. */
export function blocksHtml(blocks: readonly Block[]): string {
  return blocks.map(blockHtml).join("\n");
}

export function blockHtml(block: Block): string {
  switch (block.kind) {
    case "heading":
      return headingHtml(block);
    case "paragraph":
      return paragraphHtml(block);
    case "list":
      return listHtml(block);
    case "table":
      return tableBlockHtml(block);
    case "figure":
      return figureHtml(block);
    case "caution":
      return cautionHtml(block);
    case "decision":
      return `<div class="bq-decision"><p>${inlineHtml(block.content)}</p></div>`;
    case "preformatted":
      return preformattedHtml(block);
    case "code":
      return codeHtml(block);
    case "folded":
      return foldedHtml(block);
    case "group":
      return groupHtml(block);
    case "foreign":
      return `<div class="output">${block.html}</div>`;
    default:
      return "<hr>";
  }
}

function headingHtml({ depth, id, number, content }: Heading): string {
  const counted = number === "" ? "" : `<span class="number">${escapeHtml(number)}</span> `;
  const name = id === "" ? "" : ` id="${escapeHtml(id)}"`;
  return `<h${depth}${name}>${counted}${inlineHtml(content)}</h${depth}>`;
}

const paragraphClasses: Readonly<Record<Paragraph["role"], string>> = {
  plain: "",
  summary: "bq-summary",
  counts: "bq-counts",
  label: "kind",
};

function paragraphHtml({ role, content }: Paragraph): string {
  return `<p${classed(paragraphClasses[role])}>${inlineHtml(content)}</p>`;
}

function listHtml({ ordered, items }: List): string {
  const tag = ordered ? "ol" : "ul";
  return `<${tag}>${items.map((item) => `<li>${itemHtml(item)}</li>`).join("\n")}</${tag}>`;
}

/** An item of one paragraph is a line. */
function itemHtml(item: readonly Block[]): string {
  return item
    .map((block, i) =>
      i === 0 && block.kind === "paragraph" && block.role === "plain"
        ? inlineHtml(block.content)
        : blockHtml(block),
    )
    .join("\n");
}

function cautionHtml({ id, sentences }: CautionBlock): string {
  const name = id === "" ? "" : ` id="${escapeHtml(id)}"`;
  const opening = "<strong>Caution.</strong> ";
  const said = sentences.map(
    (content: readonly Inline[]) => `<p>${opening}${inlineHtml(content)}</p>`,
  );
  return `<div class="bq-caution"${name} role="note">${said.join("\n")}</div>`;
}

const preformattedClasses: Readonly<Record<Preformatted["role"], string>> = {
  plain: "",
  output: "output",
  stream: "output stream",
};

function preformattedHtml({ role, text }: Preformatted): string {
  return `<pre${classed(preformattedClasses[role])}>${escapeHtml(text)}</pre>`;
}

/** A cell's code, folded; on paper only the line that says which cell it was. */
function codeHtml({ text, cell }: Code): string {
  const unrun = cell === null ? '<p class="unrun">This cell was not run.</p>' : "";
  const which = cell === null ? "not run" : `cell ${cell} of the notebook`;
  return (
    `${unrun}<details class="made"><summary>How this was made: ${which}</summary>` +
    `<pre><code>${escapeHtml(text)}</code></pre></details>`
  );
}

function foldedHtml({ role, summary, blocks }: Folded): string {
  const classes = classed(role === "how" ? "bq-how" : "");
  const head = `<summary>${inlineHtml(summary)}</summary>`;
  return `<details${classes}>${head}\n${blocksHtml(blocks)}</details>`;
}

function groupHtml({ role, blocks }: Group): string {
  const inner = blocksHtml(blocks);
  switch (role) {
    case "account":
      return `<div class="bq">${inner}</div>`;
    case "quote":
      return `<blockquote>${inner}</blockquote>`;
    case "error":
      return `<div class="output error" role="alert">${inner}</div>`;
    case "stream":
      return `<div class="output stream">${inner}</div>`;
    default:
      return `<div class="output">${inner}</div>`;
  }
}

function classed(name: string): string {
  return name === "" ? "" : ` class="${name}"`;
}
