import type { Table } from "../../step/figure.js";
import type { PassCoverage } from "./coverage.js";
import { emptyOf } from "./covered-stretches.js";

const LONGEST_LIST = 40;

/** Stretches of the bank without readings in use, the longest first. */
export function emptyTable(coverage: readonly PassCoverage[]): Table | null {
  const rows = coverage.flatMap(({ campaign, file, stretches }) =>
    emptyOf(stretches).map(({ from_m, to_m }) => ({
      ...{ campaign, file, from_m, to_m, length_m: to_m - from_m },
    })),
  );
  if (rows.length === 0) return null;
  const { shown, more } = longest(rows, ({ length_m }) => length_m);
  const columns = [
    { field: "campaign", label: "Campaign" },
    { field: "file", label: "File" },
    { field: "from_m", label: "From (m)", digits: 0 },
    { field: "to_m", label: "To (m)", digits: 0 },
    { field: "length_m", label: "Length (m)", digits: 0 },
  ];
  const caption = `Stretches without readings in use.${more}`;
  return { id: "empty", caption, columns, rows: shown };
}

/** The longest rows, and a note where others are left out. */
function longest<Row>(rows: readonly Row[], size: (row: Row) => number) {
  const shown = rows.toSorted((a, b) => size(b) - size(a)).slice(0, LONGEST_LIST);
  const more = rows.length > shown.length ? ` The ${shown.length} longest of ${rows.length}.` : "";
  return { shown, more };
}

/** Gaps in the positions and what becomes of them, the longest first. */
export function gapsTable(coverage: readonly PassCoverage[]): Table | null {
  const all = coverage.flatMap(({ file, placement }) =>
    placement.gaps.map((gap) => ({ file, ...gap })),
  );
  if (all.length === 0) return null;
  const { shown, more } = longest(all, ({ readings }) => readings);
  return {
    id: "gaps",
    caption: `Gaps in the positions.${more}`,
    columns: [
      { field: "file", label: "File" },
      { field: "readings", label: "Readings", digits: 0 },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "duration_s", label: "Lasts (s)", digits: 0 },
      { field: "fate", label: "What becomes of it" },
    ],
    rows: shown.map(({ file, readings, from_m, to_m, duration_s, isBridged }) => ({
      ...{ file, readings, from_m, to_m, duration_s },
      fate: isBridged ? "bridged by time" : "stays a gap; its readings are set aside",
    })),
  };
}

/** Channels with missing values. */
export function channelsTable(coverage: readonly PassCoverage[]): Table | null {
  const rows = coverage.flatMap(({ file, channels }) =>
    channels
      .filter(({ missing_pct }) => missing_pct > 0)
      .map(({ field, missing_pct }) => ({ file, field, missing_pct })),
  );
  if (rows.length === 0) return null;
  const columns = [
    { field: "file", label: "File" },
    { field: "field", label: "Channel" },
    { field: "missing_pct", label: "Without a value (%)", digits: 1 },
  ];
  return { id: "channels", caption: "Channels with missing values.", columns, rows };
}
