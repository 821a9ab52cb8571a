import { textWidth } from "../../figures/text.js";
import { fontSizes, greys, theme } from "../../figures/theme.js";
import { titleBlock } from "../../figures/title.js";
import { type Accounting, setAsideTotal } from "../../step/account.js";
import type { Figure } from "../../step/figure.js";
import { countText, numberText } from "../../step/show/html.js";

type Json = Readonly<Record<string, unknown>>;

const WIDTH_PX = 560;
const STEP_PX = 34;
const COLOURS = {
  raw: greys.rule,
  aside: greys.band,
  corrected: "#4ba3c7",
  kept: "#332288",
} as const;

interface Row {
  readonly label: string;
  /** Readings before and after this row, of all. */
  readonly from: number;
  readonly to: number;
  readonly colour: string;
  readonly text: string;
}

/**
 * From the readings that came in to those in use: a bar for each cause that took readings away, each
 * beginning where the one above ends, and what is left, as it came and corrected, at the foot.
 *
 * @param accounting an account that closes
 * @returns a figure whose title says how many readings are in use
 */
export function accountFigure(accounting: Accounting): Figure {
  const { readings } = accounting;
  const used = readings - setAsideTotal(accounting);
  const title =
    readings === 0
      ? "No readings came in"
      : `${numberText(used)} of ${countText(readings, "reading")} are in use (${share(used, readings)})`;
  const caption =
    "Readings from top to bottom: all that came in, those set aside by cause (grey, each bar beginning " +
    "where the one above ends), and those in use, corrected or as they came. The bars of the causes and " +
    "of the readings in use add up to the first bar.";
  return { id: "account", title, caption, spec: specOf(title, rowsOf(accounting), readings) };
}

function share(part: number, whole: number): string {
  const pct = (100 * part) / whole;
  const shown = pct > 0 && pct < 1 ? pct.toFixed(2) : pct.toFixed(1);
  return `${shown === "100.0" && part < whole ? "over 99.9" : shown} %`;
}

function rowsOf(accounting: Accounting): readonly Row[] {
  const { readings, kept, corrected, setAside } = accounting;
  const said = (count: number) =>
    count === readings || readings === 0
      ? numberText(count)
      : `${numberText(count)} (${share(count, readings)})`;
  const rows: Row[] = [
    { label: "Came in", from: 0, to: readings, colour: COLOURS.raw, text: numberText(readings) },
  ];
  let left = readings;
  for (const { cause, readings: count } of setAside.toSorted((a, b) => b.readings - a.readings)) {
    const label = `Set aside: ${cause}`;
    rows.push({
      label,
      from: left - count,
      to: left,
      colour: COLOURS.aside,
      text: `−${said(count)}`,
    });
    left -= count;
  }
  if (corrected > 0) {
    const label = "In use, corrected";
    rows.push({
      label,
      from: kept,
      to: kept + corrected,
      colour: COLOURS.corrected,
      text: said(corrected),
    });
  }
  if (kept > 0 || corrected === 0) {
    const label = "In use as they came";
    rows.push({ label, from: 0, to: kept, colour: COLOURS.kept, text: said(kept) });
  }
  return rows;
}

function specOf(title: string, rows: readonly Row[], readings: number): Figure["spec"] {
  const labels = rows.map(({ label }) => label);
  const values = rows.map(({ label, from, to, colour, text }, i) => ({
    ...{ l: label, a: from, b: to, k: colour, t: text, i },
  }));
  const widest = Math.max(...labels.map((label) => textWidth(label, fontSizes.label)));
  const y = {
    field: "l",
    type: "nominal",
    sort: labels,
    axis: {
      title: null,
      domain: false,
      ticks: false,
      labelLimit: Math.ceil(widest) + 20,
      labelPadding: 8,
    },
  };
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock({ title }, WIDTH_PX + 300),
    config: theme,
    width: WIDTH_PX,
    height: { step: STEP_PX },
    data: { values },
    layer: [bars(y, readings), steps(y, rows), ...words(y)],
  };
}

function x(field: string, readings?: number): Json {
  const domain = [0, Math.max(1, readings ?? 1)];
  const axis = { title: "Readings", format: ",~f", tickCount: 6 };
  const scale = readings === undefined ? {} : { scale: { domain, nice: false }, axis };
  return { field, type: "quantitative", ...scale };
}

function bars(y: Json, readings: number): Json {
  return {
    mark: { type: "bar", height: 20, stroke: greys.bandEdge, strokeWidth: 0.5 },
    encoding: {
      y,
      x: x("a", readings),
      x2: { field: "b" },
      color: { field: "k", type: "nominal", scale: null },
      tooltip: [
        { field: "l", title: "What" },
        { field: "t", title: "Readings" },
      ],
    },
  };
}

/** Thin lines from the end of each bar to the row below: what is left goes on. */
function steps(y: Json, rows: readonly Row[]): Json {
  const values = rows
    .slice(0, -1)
    .map((row, i) => ({ l: row.label, m: rows[i + 1]!.label, at: rows[i + 1]!.to }));
  return {
    data: { values },
    mark: { type: "rule", color: greys.rule, strokeDash: [2, 2] },
    encoding: { y, y2: { field: "m" }, x: x("at") },
  };
}

/** The numbers, to the right of the bars' longest end. */
function words(y: Json): readonly Json[] {
  return [
    {
      mark: { type: "text", align: "left", baseline: "middle", x: WIDTH_PX + 10 },
      encoding: { y, text: { field: "t" } },
    },
  ];
}
