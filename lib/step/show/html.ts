import type { Table, TableColumn } from "../figure.js";

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text made safe between tags and inside quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (letter) => entities[letter] ?? letter);
}

/**
 * A number for the reader: `digits` decimals, or up to six significant digits without; commas by
 * thousands, a true minus sign, and an en dash where the value is missing.
 */
export function numberText(value: number, digits?: number): string {
  if (Number.isNaN(value)) return "–";
  if (!Number.isFinite(value)) return value > 0 ? "∞" : "−∞";
  const text = digits === undefined ? String(Number(value.toPrecision(6))) : value.toFixed(digits);
  if (text.includes("e")) return text.replace("-", "−");
  const [whole, decimals] = text.replace("-", "").split(".") as [string, string?];
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  const sign = text.startsWith("-") && /[1-9]/.test(text) ? "−" : "";
  return `${sign}${grouped}${decimals === undefined ? "" : `.${decimals}`}`;
}

/**
 * A count with its noun: "1 reading", "2,304 readings"; `plural` where it is not the noun with an
 * s.
 */
export function countText(count: number, noun: string, plural = `${noun}s`): string {
  return `${count.toLocaleString("en")} ${count === 1 ? noun : plural}`;
}

/** A value of an option as short text: numbers plain, lists with commas, objects as name: value. */
export function valueText(value: unknown): string {
  if (value === undefined) return "–";
  if (typeof value === "string") return value;
  if (typeof value === "number") return String(Number(value.toPrecision(12)));
  if (ArrayBuffer.isView(value) && !(value instanceof DataView)) {
    return valueText(Array.from(value as unknown as ArrayLike<number>));
  }
  if (Array.isArray(value)) return value.length === 0 ? "none" : listText(value);
  if (typeof value === "object" && value !== null) return objectText(value);
  return String(value);
}

const longestList = 12;

/** Of a list of things with parts, the first stands for all. */
function listText(values: readonly unknown[]): string {
  const [first] = values;
  if (values.length > 3 && typeof first === "object" && first !== null) {
    return `${valueText(first)}, … (${values.length} in all)`;
  }
  const shown = values.slice(0, longestList).map(valueText).join(", ");
  return values.length > longestList ? `${shown}, … (${values.length} in all)` : shown;
}

function objectText(value: object): string {
  const parts = Object.entries(value).map(([name, inner]) => `${name}: ${valueText(inner)}`);
  return parts.length === 0 ? "none" : parts.join("; ");
}

/** A table of up to this many rows is short: it is shown unfolded and kept on one page. */
export const shortTable = 15;

/** A table with its caption; numbers stand right, a missing value is an en dash. */
export function tableHtml(table: Table): string {
  const numeric = new Set(table.columns.filter((column) => isNumeric(table, column)));
  const cell = (tag: string, column: TableColumn, text: string) =>
    `<${tag}${numeric.has(column) ? ' class="bq-number"' : ""}>${text}</${tag}>`;
  const head = table.columns.map((column) => cell("th", column, escapeHtml(column.label)));
  const body = table.rows.map((row) => {
    const cells = table.columns.map((column) =>
      cell("td", column, cellText(row[column.field], column)),
    );
    return `<tr>${cells.join("")}</tr>`;
  });
  const none = `<tr><td colspan="${table.columns.length}">none</td></tr>`;
  return [
    `<table class="bq-table${table.rows.length <= shortTable ? " bq-short" : ""}">`,
    table.caption === "" ? "" : `<caption>${escapeHtml(table.caption)}</caption>`,
    `<thead><tr>${head.join("")}</tr></thead>`,
    `<tbody>${body.length === 0 ? none : body.join("\n")}</tbody></table>`,
  ].join("\n");
}

function isNumeric(table: Table, column: TableColumn): boolean {
  const values = table.rows.map((row) => row[column.field]).filter((value) => value != null);
  return values.length > 0 && values.every((value) => typeof value === "number");
}

function cellText(
  value: string | number | boolean | null | undefined,
  column: TableColumn,
): string {
  if (value === null || value === undefined) return "–";
  if (typeof value === "number") return numberText(value, column.digits);
  if (typeof value === "boolean") return value ? "yes" : "no";
  return escapeHtml(value);
}
