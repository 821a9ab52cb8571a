import { shortTable } from "../../step/show/html.js";
import type { Cell, TableBlock } from "../model/block.js";
import { heldTogether } from "../model/holding.js";
import { type Inline, plainText } from "../model/inline.js";
import { columnsOf, tableParts } from "../model/table-widths.js";
import { inlineHtml } from "./inline-html.js";

/** What A4 leaves to a table, upright and turned, less the page's margins, pt. */
const paper = { upright_pt: 500, turned_pt: 740 };

/** A table in a frame of its own, which scrolls where the table is wider than the page. */
export function tableBlockHtml(table: TableBlock): string {
  if (table.role === "title") return `<table class="title-block">${bodyHtml(table)}</table>`;
  const caption = captionHtml(table);
  if (!table.folded) return framed(table, caption === "" ? "" : `<caption>${caption}</caption>`);
  return `<details><summary>${caption}</summary>\n${framed(table, "")}</details>`;
}

function captionHtml({ number, caption }: TableBlock): string {
  const counted = number === null ? "" : `<b>Table ${number}.</b> `;
  return caption.length === 0 ? "" : `${counted}${inlineHtml(caption)}`;
}

function framed(table: TableBlock, caption: string): string {
  const short = table.rows.length <= shortTable ? " bq-short" : "";
  const classes = table.role === "data" ? ` class="bq-table${short}"` : "";
  const name = table.id === "" ? "" : ` id="${table.id}"`;
  return (
    `<div class="wide${onPaper(table)}"${name}>` +
    `<table${classes}>${caption}${headHtml(table)}${bodyHtml(table)}</table></div>`
  );
}

/** The size of its letters on paper, and whether it stands on a turned page there. */
function onPaper(table: TableBlock): string {
  const columns = columnsOf([table.head, ...table.rows], wordsOf);
  const [part] = tableParts(columns, paper);
  if (part === undefined) return "";
  const size = part.text_pt < 7 ? " small" : "";
  return `${size}${part.turned ? " turned" : ""}`;
}

const wordsOf = (content: readonly Inline[]) => heldTogether(plainText(content));

function headHtml({ head }: TableBlock): string {
  if (head.length === 0) return "";
  return `<thead><tr>${head.map((cell) => cellHtml(cell, ' scope="col"')).join("")}</tr></thead>`;
}

function bodyHtml({ rows }: TableBlock): string {
  const lines = rows.map(
    (row) => `<tr>${row.map((cell) => cellHtml(cell, ' scope="row"')).join("")}</tr>`,
  );
  return `<tbody>${lines.join("\n")}</tbody>`;
}

/** Letters from which a text asks for more than the width of its longest word. */
const longText = 60;

/** A head without words heads nothing. */
function cellHtml({ content, isHeading, isNumeric, span }: Cell, scope: string): string {
  const heads = isHeading && content.length > 0;
  const tag = heads ? "th" : "td";
  const isLong = plainText(content).length > longText;
  const attributes = [
    heads ? scope : "",
    isNumeric ? ' class="bq-number"' : isLong ? ' class="long"' : "",
    span > 1 ? ` colspan="${span}"` : "",
  ];
  return `<${tag}${attributes.join("")}>${inlineHtml(held(content))}</${tag}>`;
}

/** In a cell a value and its interval stay on one line. */
function held(content: readonly Inline[]): readonly Inline[] {
  return content.map((one) => {
    if (typeof one === "string") return heldTogether(one);
    return "content" in one ? { ...one, content: held(one.content) } : one;
  });
}
