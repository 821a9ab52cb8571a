import type { Config } from "vega-lite";
import { itemAt } from "../numerics/arrays.js";

/**
 * Resistivity from conductive (dark) to resistive (light), for a log scale. Nine stops at equal
 * steps of OKLab distance; lightness rises all the way, so it reads in grey print and with any
 * colour vision. Each stop has a hue of its own, so a stop faded for want of confidence does not
 * look like another stop.
 */
export const resistivityRamp: readonly string[] = Object.freeze([
  "#272757",
  "#4e2e6a",
  "#76376f",
  "#99456b",
  "#b85861",
  "#cd7459",
  "#db9459",
  "#e5b56c",
  "#ecd78a",
]);

/** Categories: the "muted" set of P. Tol (2021), SRON/EPS/TN/09-002, in an order of our own. */
export const classColours: readonly string[] = Object.freeze([
  "#332288",
  "#cc6677",
  "#117733",
  "#999933",
  "#4ba3c7",
  "#882255",
  "#44aa99",
  "#ddcc77",
  "#aa4499",
]);

/** A colour for each name: its own where it has one, else the class colour at its place. */
export function coloursOf(
  names: readonly string[],
  own: Readonly<Record<string, string>> = {},
): string[] {
  return names.map((name, i) => own[name] ?? classColour(i));
}

/** The class colour at a place; after the last comes the first again. */
export function classColour(place: number): string {
  return itemAt(classColours, place % classColours.length);
}

/** A fall and a rise, apart for every kind of colour vision. */
export const directionColours = Object.freeze({ fell: "#2b6ca3", rose: "#b5541c" });

/**
 * Bands of evidence, pale to dark in one hue: their order reads without a legend and in grey print.
 */
export const bandColours = Object.freeze({ low: "#b9d3e8", moderate: "#6b9fc8", high: "#1f5a8c" });

export const greys = Object.freeze({
  text: "#222426",
  quiet: "#5d6266",
  rule: "#9aa0a5",
  grid: "#e6e8ea",
  band: "#dcdee0",
  bandEdge: "#b3b7bb",
  background: "#ffffff",
});

const fontFamily = "Arial, Liberation Sans, Helvetica, sans-serif";

/** Plotted width of a figure, px, unless it says otherwise: with its legend it fills an A4 page. */
export const figureWidth_px = 780;

/**
 * Sizes in px; on A4 paper, where a figure shrinks to about three quarters, 12 px come to 6.7 pt.
 */
export const fontSizes = Object.freeze({
  title: 16,
  subtitle: 13,
  heading: 13,
  label: 12,
  note: 11.5,
});

/** The common configuration of every figure. */
export const theme = Object.freeze({
  background: greys.background,
  font: fontFamily,
  padding: 10,
  view: { stroke: null },
  concat: { spacing: 30 },
  title: {
    anchor: "start",
    frame: "group",
    color: greys.text,
    fontSize: fontSizes.title,
    fontWeight: "bold",
    subtitleColor: greys.quiet,
    subtitleFontSize: fontSizes.subtitle,
    subtitlePadding: 5,
    lineHeight: 20,
    subtitleLineHeight: 17,
    offset: 14,
  },
  axis: {
    labelColor: greys.quiet,
    labelFontSize: fontSizes.label,
    titleColor: greys.text,
    titleFontSize: fontSizes.label,
    titleFontWeight: "normal",
    titlePadding: 7,
    domainColor: greys.rule,
    tickColor: greys.rule,
    tickSize: 4,
    gridColor: greys.grid,
    labelSeparation: 6,
  },
  legend: {
    labelColor: greys.text,
    labelFontSize: fontSizes.label,
    labelLimit: 190,
    titleColor: greys.text,
    titleFontSize: fontSizes.label,
    titleFontWeight: "normal",
    titleLimit: 0,
    offset: 14,
    rowPadding: 3,
    symbolStrokeWidth: 2.5,
    symbolSize: 70,
  },
  // A legend takes its stroke from here and from styles, not from a mark.
  style: { stretch: { strokeWidth: 7, strokeCap: "butt", strokeJoin: "round" } },
  line: { strokeWidth: 1.5, strokeJoin: "round", strokeCap: "round" },
  text: { font: fontFamily, fontSize: fontSizes.note, color: greys.text },
} satisfies Config);
