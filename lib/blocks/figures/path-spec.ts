import { logTicks } from "../../figures/axes.js";
import { classColours, figureWidth_px, greys, theme } from "../../figures/theme.js";
import { type Headed, titleBlock } from "../../figures/title.js";
import type { VegaLiteSpec } from "../../step/figure.js";

/** A boundary followed along the path: where it lies and over which prices it is drawn. */
export interface PathBoundary {
  readonly at_m: number;
  /** Multiples of the price used. */
  readonly from: number;
  readonly to: number;
}

interface PathFrame extends Headed {
  readonly domain_m: readonly [number, number];
}

const HEIGHT_PX = 260;
const DRAWN = "a boundary";
const MISSED = "not worth its price";

/** Bars of prices over chainage, each with the highest price written on it, and a rule at 1. */
export function pathSpec(bars: readonly PathBoundary[], frame: PathFrame): VegaLiteSpec {
  const low = Math.min(...bars.map(({ from }) => from));
  const high = 1.6 * Math.max(1.25, ...bars.map(({ to }) => to));
  const x = {
    field: "x",
    type: "quantitative",
    scale: { domain: [...frame.domain_m], nice: false, zero: false },
    axis: { title: "Chainage (m)", grid: false },
  };
  const y = {
    type: "quantitative",
    scale: { type: "log", domain: [low, high], nice: false },
    axis: {
      title: "Price of a boundary, multiples of the price used",
      values: logTicks([low, high], 12),
      format: "~g",
    },
  };
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(frame, figureWidth_px + 120),
    config: theme,
    width: figureWidth_px,
    height: HEIGHT_PX,
    data: { values: rows(bars, frame) },
    layer: [
      ...priceUsed(y),
      {
        mark: { type: "rule", strokeWidth: 6, strokeCap: "butt" },
        encoding: { x, y: { field: "a", ...y }, y2: { field: "b" }, color, tooltip },
      },
      ...[0, 1, 2].map((level) => ({
        transform: [{ filter: `datum.r === ${level}` }],
        mark: { type: "text", dy: -8 - 14 * level, baseline: "bottom" },
        encoding: { x, y: { field: "b", ...y }, text: { field: "t" } },
      })),
    ],
  };
}

const color = {
  field: "g",
  type: "nominal",
  scale: { domain: [DRAWN, MISSED], range: [classColours[0], greys.rule] },
  legend: { title: "At the price used", symbolType: "stroke", symbolStrokeWidth: 6 },
};

const tooltip = [
  { field: "x", title: "Chainage (m)" },
  { field: "a", title: "From price" },
  { field: "b", title: "To price" },
];

function priceUsed(y: object) {
  return [
    {
      data: { values: [{ p: 1 }] },
      mark: { type: "rule", color: greys.text, strokeDash: [5, 3] },
      encoding: { y: { field: "p", ...y } },
    },
    {
      data: { values: [{ p: 1, t: "price used" }] },
      mark: { type: "text", align: "left", x: figureWidth_px + 8 },
      encoding: { y: { field: "p", ...y }, text: { field: "t" } },
    },
  ];
}

/** Labels that would run into their left neighbour's stand on a higher row. */
function rows(bars: readonly PathBoundary[], { domain_m }: PathFrame) {
  const perMetre = figureWidth_px / (domain_m[1] - domain_m[0]);
  let row = 0;
  return bars.map(({ at_m, from, to }, i) => {
    const before = bars[i - 1];
    const near =
      before !== undefined &&
      (at_m - before.at_m) * perMetre < 44 &&
      Math.abs(Math.log(to / before.to)) < 0.5;
    row = near ? (row + 1) % 3 : 0;
    return {
      x: Math.round(10 * at_m) / 10,
      a: Number(from.toPrecision(4)),
      b: Number(to.toPrecision(4)),
      g: from < 1 && to >= 1 ? DRAWN : MISSED,
      t: `× ${to < 10 ? to.toPrecision(2) : to.toFixed(0)}`,
      r: row,
    };
  });
}
