import type { Cell, TableBlock } from "./block.js";
import { inlinesOf } from "./inlines-of.js";
import { childrenOf, type Element, hasClass } from "./parse-html.js";

/** A parsed table; its number and its id are given where the whole document is known. */
export function tableOf(table: Element): TableBlock {
  const parts = childrenOf(table, "thead", "tbody", "tfoot", "tr");
  const rows = parts.flatMap((part) => (part.name === "tr" ? [part] : childrenOf(part, "tr")));
  const head = parts.find(({ name }) => name === "thead");
  const headRow = head === undefined ? undefined : childrenOf(head, "tr")[0];
  const caption = childrenOf(table, "caption")[0];
  return {
    kind: "table",
    role: roleOf(table),
    id: "",
    number: null,
    caption: caption === undefined ? [] : inlinesOf(caption.children),
    head: headRow === undefined ? [] : cellsOf(headRow),
    rows: rows.filter((row) => row !== headRow).map(cellsOf),
    folded: false,
  };
}

function roleOf(table: Element): TableBlock["role"] {
  if (hasClass(table, "title-block")) return "title";
  return hasClass(table, "bq-table") ? "data" : "plain";
}

function cellsOf(row: Element): readonly Cell[] {
  return childrenOf(row, "td", "th").map((cell) => ({
    content: inlinesOf(cell.children),
    isHeading: cell.name === "th",
    isNumeric: hasClass(cell, "bq-number") || cell.attribs.align === "right",
    span: Math.max(1, Number(cell.attribs.colspan ?? 1) || 1),
  }));
}
