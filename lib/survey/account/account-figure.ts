import { figureSpec, type Layer, type Position } from "../../figures/spec.js";
import { textWidth } from "../../figures/text.js";
import { fontSizes, greys } from "../../figures/theme.js";
import { neighbours } from "../../numerics/arrays.js";
import { type Accounting, setAsideTotal } from "../../step/account.js";
import type { Figure } from "../../step/figure.js";
import { countText, numberText } from "../../step/show/html.js";

const width_px = 560;
const step_px = 34;
const colours = {
  raw: greys.rule,
  aside: greys.band,
  corrected: "#4ba3c7",
  kept: "#332288",
} as const;

interface Bar {
  readonly label: string;
  /** Readings before and after this bar, of all. */
  readonly from: number;
  readonly to: number;
  readonly colour: string;
  readonly text: string;
}

/**
 * From the readings that came in to those in use: a bar for each cause that took readings away,
 * each beginning where the one above ends, and what is left, as it came and corrected, at the foot.
 *
 * @param accounting an account that closes
 * @returns a figure whose title says how many readings are in use
 */
export function accountFigure(accounting: Accounting): Figure {
  const { readings } = accounting;
  const used = readings - setAsideTotal(accounting);
  const of = `${numberText(used)} of ${countText(readings, "reading")}`;
  const title =
    readings === 0 ? "No readings came in" : `${of} are in use (${share(used, readings)})`;
  const caption =
    "Readings from top to bottom: all that came in, those set aside by cause (grey, each bar " +
    "beginning where the one above ends), and those in use, corrected or as they came. The bars of " +
    "the causes and of the readings in use add up to the first bar.";
  return { id: "account", title, caption, spec: specOf(title, barsOf(accounting), readings) };
}

function share(part: number, whole: number): string {
  const pct = (100 * part) / whole;
  const shown = pct > 0 && pct < 1 ? pct.toFixed(2) : pct.toFixed(1);
  return `${shown === "100.0" && part < whole ? "over 99.9" : shown} %`;
}

function barsOf({ readings, kept, corrected, setAside }: Accounting): readonly Bar[] {
  const said = (count: number) =>
    count === readings || readings === 0
      ? numberText(count)
      : `${numberText(count)} (${share(count, readings)})`;
  let left = readings;
  const causes = setAside
    .toSorted((a, b) => b.readings - a.readings)
    .map(({ cause, readings: count }) => {
      const to = left;
      left -= count;
      const text = `−${said(count)}`;
      return { label: `Set aside: ${cause}`, from: left, to, colour: colours.aside, text };
    });
  const used = (label: string, from: number, count: number, colour: string): Bar => ({
    ...{ label, from, to: from + count, colour, text: said(count) },
  });
  const all = numberText(readings);
  return [
    { label: "Came in", from: 0, to: readings, colour: colours.raw, text: all },
    ...causes,
    ...(corrected > 0 ? [used("In use, corrected", kept, corrected, colours.corrected)] : []),
    ...(kept > 0 || corrected === 0 ? [used("In use as they came", 0, kept, colours.kept)] : []),
  ];
}

function specOf(title: string, bars: readonly Bar[], readings: number): Figure["spec"] {
  const labels = bars.map(({ label }) => label);
  const values = bars.map(({ label, from, to, colour, text }, i) => ({
    ...{ l: label, a: from, b: to, k: colour, t: text, i },
  }));
  const widest = Math.max(...labels.map((label) => textWidth(label, fontSizes.label)));
  const labelLimit = Math.ceil(widest) + 20;
  const y: Position = {
    field: "l",
    type: "nominal",
    sort: labels,
    axis: { title: null, domain: false, ticks: false, labelLimit, labelPadding: 8 },
  };
  return figureSpec({ title }, width_px + 300, {
    width: width_px,
    height: { step: step_px },
    data: { values },
    layer: [barLayer(y, readings), steps(y, bars), numbers(y)],
  });
}

function barLayer(y: Position, readings: number): Layer {
  return {
    mark: { type: "bar", height: 20, stroke: greys.bandEdge, strokeWidth: 0.5 },
    encoding: {
      y,
      x: {
        field: "a",
        type: "quantitative",
        scale: { domain: [0, Math.max(1, readings)], nice: false },
        axis: { title: "Readings", format: ",~f", tickCount: 6 },
      },
      x2: { field: "b" },
      color: { field: "k", type: "nominal", scale: null },
      tooltip: [
        { field: "l", title: "What" },
        { field: "t", title: "Readings" },
      ],
    },
  };
}

/** Thin lines from the end of each bar to the one below: what is left goes on. */
function steps(y: Position, bars: readonly Bar[]): Layer {
  const values = neighbours(bars).map(([{ label: l }, next]) => ({
    l,
    m: next.label,
    at: next.to,
  }));
  return {
    data: { values },
    mark: { type: "rule", color: greys.rule, strokeDash: [2, 2] },
    encoding: { y, y2: { field: "m" }, x: { field: "at", type: "quantitative" } },
  };
}

/** The numbers, to the right of the bars' longest end. */
function numbers(y: Position): Layer {
  return {
    mark: { type: "text", align: "left", baseline: "middle", x: width_px + 10 },
    encoding: { y, text: { field: "t" } },
  };
}
