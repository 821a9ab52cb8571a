import { FACTS } from "./facts.js";

/** Fixed text forms, so that the same seed gives the same bytes. */

export type Cell = string | number | null;

/** A CSV (RFC 4180 quoting, line feeds): blank for null and NaN. */
export function csv(header: readonly string[], rows: Iterable<readonly Cell[]>): string {
  const lines = [header.join(",")];
  for (const row of rows) lines.push(row.map(cellText).join(","));
  return `${lines.join("\n")}\n`;
}

function cellText(cell: Cell): string {
  if (cell === null || (typeof cell === "number" && Number.isNaN(cell))) return "";
  const text = String(cell);
  return /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Fixed decimals, without a negative zero. */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

/** Rounded to significant figures, as a number. */
export function significant(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}

/** ISO 8601 on the survey's clock; `seconds` decimals of a second. */
export function isoTime(time_ms: number, seconds: 0 | 1 = 0): string {
  const unit = seconds === 0 ? 1000 : 100;
  const rounded = Math.round(time_ms / unit) * unit;
  const local = new Date(rounded + FACTS.clockOffset_min * 60_000).toISOString();
  const hours = String(Math.floor(FACTS.clockOffset_min / 60)).padStart(2, "0");
  return `${local.slice(0, seconds === 0 ? 19 : 21)}+${hours}:00`;
}
