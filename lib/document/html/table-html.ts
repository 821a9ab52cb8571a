import { shortTable } from "../../step/show/html.js";
import type { Cell, TableBlock } from "../model/block.js";
import { inlineHtml } from "./inline-html.js";

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
    `<div class="wide"${name} tabindex="0" role="group" aria-label="${labelOf(table)}">` +
    `<table${classes}>${caption}${headHtml(table)}${bodyHtml(table)}</table></div>`
  );
}

function labelOf({ number }: TableBlock): string {
  return number === null ? "Table" : `Table ${number}`;
}

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

function cellHtml({ content, isHeading, isNumeric, span }: Cell, scope: string): string {
  const tag = isHeading ? "th" : "td";
  const attributes = [
    isHeading ? scope : "",
    isNumeric ? ' class="bq-number"' : "",
    span > 1 ? ` colspan="${span}"` : "",
  ];
  return `<${tag}${attributes.join("")}>${inlineHtml(content)}</${tag}>`;
}
