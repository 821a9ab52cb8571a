import { type Flag, placeFlags } from "../flags.js";
import { extent, rounded } from "../numbers.js";
import type { Layer, Positions, Row } from "../spec.js";
import { figureWidth_px, fontSizes, greys } from "../theme.js";
import type { Strip, StripPanel } from "./types.js";

/** What all panels of a strip share. */
export interface StripFrame {
  readonly width_px: number;
  readonly domain_m: readonly [number, number];
  readonly metresPer_px: number;
  /** Title of the axis along. */
  readonly alongLabel: string;
  readonly flags: readonly Flag[];
  readonly setAside: readonly Row[];
  readonly marks: readonly Row[];
}

/** What a panel needs to draw itself: the shared frame and the chainage encoding of its row. */
export interface PanelFrame {
  readonly frame: StripFrame;
  readonly x: Positions;
  /** Rows that all panels together may take, shared out by the panels' series. */
  readonly seriesCount: number;
  /** Height of this panel, px. */
  readonly height_px: number;
}

/** A panel's rows and the layers that draw them. */
export interface DrawnPanel {
  readonly data: readonly Row[];
  readonly layers: readonly Layer[];
}

const flagHeight_px = 14;
/** The first panel's heading stands between the plot and the flags. */
const headingHeight_px = 20;

export function stripFrame(strip: Strip): StripFrame {
  const width_px = strip.width_px ?? figureWidth_px;
  const domain_m = strip.domain_m ?? coveredChainage(strip);
  const metresPer_px = (domain_m[1] - domain_m[0]) / width_px;
  return {
    width_px,
    domain_m,
    metresPer_px,
    alongLabel: strip.alongLabel ?? "Chainage (m)",
    flags: flagsOf(strip, metresPer_px),
    setAside: bandRows(strip, metresPer_px),
    marks: markRows(strip),
  };
}

/** The chainage encoding; only the lowest panel writes numbers. */
export function chainageAxis(frame: StripFrame, labelled: boolean): Positions {
  const scale = { domain: [...frame.domain_m], nice: false, zero: false };
  const axis = {
    title: labelled ? frame.alongLabel : null,
    labels: labelled,
    format: ",~f",
    labelFlush: false,
    tickCount: 12,
  };
  return (field) => ({ field, type: "quantitative", scale, axis });
}

/** Grey bands and interval bands that go behind a panel's data. */
export function backgroundLayers(frame: StripFrame, x: Positions): readonly Layer[] {
  const bands: Layer = {
    data: { name: "setAside" },
    mark: { type: "rect", color: greys.band, clip: true },
    encoding: { x: x("a"), x2: { field: "b" }, tooltip: [{ field: "t", title: "Set aside" }] },
  };
  const intervals: Layer = {
    data: { name: "marks" },
    mark: { type: "rect", color: greys.text, opacity: 0.09, clip: true },
    encoding: { x: x("lo"), x2: { field: "hi" } },
  };
  return [
    ...(frame.setAside.length > 0 ? [bands] : []),
    ...(frame.marks.length > 0 ? [intervals] : []),
  ];
}

/** Rules of the marks, drawn over a panel's data. */
export function markRules(frame: StripFrame, x: Positions): readonly Layer[] {
  if (frame.marks.length === 0) return [];
  const tooltip = [
    { field: "t", title: "Boundary" },
    { field: "at", title: "At (m)" },
    { field: "lo", title: "From (m)" },
    { field: "hi", title: "To (m)" },
  ];
  return [
    {
      data: { name: "marks" },
      mark: { type: "rule", color: greys.text, strokeWidth: 1, strokeDash: [4, 3], clip: true },
      encoding: { x: x("at"), tooltip },
    },
  ];
}

/** The causes and the marks' texts, flying above the first panel. */
export function flagLayers({ flags }: StripFrame, x: Positions): readonly Layer[] {
  const rows = flags.reduce((most, flag) => Math.max(most, flag.row + 1), 0);
  return Array.from({ length: rows }, (_, row) => flagRow(flags, row, x)).flat();
}

function flagRow(flags: readonly Flag[], row: number, x: Positions): readonly Layer[] {
  const values = flags
    .filter((flag) => flag.row === row)
    .map((flag) => ({ at: rounded(flag.at), t: flag.text }));
  const y = -(headingHeight_px + row * flagHeight_px + flagHeight_px / 2);
  return [
    {
      data: { values },
      mark: { type: "rule", color: greys.bandEdge, strokeWidth: 1, y: 0, y2: y - 6 },
      encoding: { x: x("at") },
    },
    {
      data: { values },
      mark: { type: "text", align: "left", baseline: "middle", dx: 3, color: greys.quiet, y },
      encoding: { x: x("at"), text: { field: "t" } },
    },
  ];
}

function flagsOf({ setAside = [], marks = [] }: Strip, metresPer_px: number): readonly Flag[] {
  const causes = setAside.map(({ from_m, to_m, text }) => ({ at: (from_m + to_m) / 2, text }));
  const names = marks.map(({ at_m, text }) => ({ at: at_m, text }));
  const layout = { unitsPer_px: metresPer_px, size_px: fontSizes.note, letters: 26, gap_px: 7 };
  return placeFlags([...causes, ...names], layout);
}

function bandRows({ setAside = [] }: Strip, metresPer_px: number): readonly Row[] {
  return setAside.map(({ from_m, to_m, text, detail }) => {
    const widen = Math.max(0, 2 * metresPer_px - (to_m - from_m)) / 2;
    const span = `${rounded(from_m)}–${rounded(to_m)} m`;
    return {
      a: rounded(from_m - widen, 2),
      b: rounded(to_m + widen, 2),
      t: `${detail ?? text}, ${span}`,
    };
  });
}

function markRows({ marks = [] }: Strip): readonly Row[] {
  return marks.map(({ at_m, lo_m, hi_m, text }) => ({
    at: rounded(at_m),
    lo: rounded(lo_m ?? at_m),
    hi: rounded(hi_m ?? at_m),
    t: text,
  }));
}

function coveredChainage({ panels, setAside = [], marks = [] }: Strip): readonly [number, number] {
  const places = [ends(setAside), marks.map(({ at_m }) => at_m), ...panels.flatMap(panelChainage)];
  const range = extent(places) ?? [0, 100];
  return range[1] > range[0] ? range : [range[0] - 1, range[0] + 1];
}

function panelChainage(panel: StripPanel): readonly ArrayLike<number>[] {
  switch (panel.kind) {
    case "lines":
      return panel.series.map(({ x }) => x);
    case "points":
      return [panel.points.map(({ x_m }) => x_m)];
    case "cells":
      return [ends(panel.cells)];
    case "stretches":
      return [ends(panel.stretches)];
    case "rows":
      return panel.rows.map(({ stretches }) => ends(stretches));
  }
}

function ends(
  stretches: readonly { readonly from_m: number; readonly to_m: number }[],
): readonly number[] {
  return stretches.flatMap(({ from_m, to_m }) => [from_m, to_m]);
}
