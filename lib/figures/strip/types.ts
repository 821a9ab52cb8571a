/** Panels stacked over one chainage axis. */
export interface Strip {
  /** The finding in a sentence; long titles are wrapped. */
  readonly title: string;
  readonly subtitle?: string;
  /** Width of the plotted area, px; default 780. */
  readonly width_px?: number;
  /** Chainages at the ends of the axis; default: what the panels, bands and marks cover. */
  readonly domain_m?: readonly [number, number];
  /** What the axis along is called; default "Chainage (m)". */
  readonly alongLabel?: string;
  /** Top to bottom. */
  readonly panels: readonly StripPanel[];
  /** Grey bands through the panels of data, their causes written above. */
  readonly setAside?: readonly SetAsideBand[];
  /** Boundaries through all panels: a rule, and its interval as a pale band. */
  readonly marks?: readonly StripMark[];
}

export interface SetAsideBand {
  readonly from_m: number;
  readonly to_m: number;
  /** The cause in a few words, such as "culvert"; only the first 26 letters are drawn. */
  readonly text: string;
  /** The whole cause, for the tooltip; default `text`. */
  readonly detail?: string;
}

export interface StripMark {
  readonly at_m: number;
  readonly lo_m?: number;
  readonly hi_m?: number;
  /** Written above; "" draws the rule only. */
  readonly text: string;
}

export type StripPanel = LinesPanel | CellsPanel | StretchesPanel | PointsPanel | RowsPanel;

/** Curves against chainage. */
export interface LinesPanel {
  readonly kind: "lines";
  /** Heading of the panel, with the unit: "Quadrature, HCP (ppm)". */
  readonly label: string;
  readonly scale: "linear" | "log";
  readonly series: readonly StripSeries[];
  /** A rule at zero (linear scale) or at one (log scale). */
  readonly zeroRule?: boolean;
  /** px; default 130. */
  readonly height_px?: number;
  /** Ends of the vertical axis; default: the data with a margin. */
  readonly domain?: readonly [number, number];
  /** Heading of the legend; no legend where it is "". One series without a heading has none. */
  readonly legend?: string;
}

export interface StripSeries {
  readonly name: string;
  /** n chainages, m, rising. */
  readonly x: ArrayLike<number>;
  /** n values; NaN breaks the line. */
  readonly y: ArrayLike<number>;
  /** n lower and upper bounds, drawn as a band. */
  readonly lo?: ArrayLike<number>;
  readonly hi?: ArrayLike<number>;
  /** Colour, "#rrggbb"; default: the next of `classColours`. */
  readonly colour?: string;
}

/** A section: values in cells of chainage and depth, on the resistivity ramp and a log scale. */
export interface CellsPanel {
  readonly kind: "cells";
  readonly label: string;
  readonly cells: readonly Cell[];
  /** Unit of the values, shown in the legend, such as "ohm-m". */
  readonly unit: string;
  readonly height_px?: number;
  /**
   * Ends of the colour scale; default: the values' range, out to 1, 2 or 5 times a power of ten.
   */
  readonly domain?: readonly [number, number];
  /** Depth of the dashed rule with "reliable to … m"; no rule without it. */
  readonly reliableTo_m?: number;
  /** What the vertical axis is called where the cells have a surface's elevation. */
  readonly elevationLabel?: string;
  /**
   * Words for full, half and no confidence, explained by squares; without them, a remark at the
   * ramp.
   */
  readonly fading?: readonly [string, string, string];
  /** Marks at places of the section. */
  readonly spots?: readonly CellSpot[];
}

/** A mark at a place of a section. */
export interface CellSpot {
  readonly x_m: number;
  readonly depth_m: number;
  /** Elevation of the surface above it, where the cells have one. */
  readonly surface_m?: number;
  /** "dot": small and grey; "up" and "down": triangles. */
  readonly shape: "dot" | "up" | "down";
  /** For the tooltip. */
  readonly text: string;
}

export interface Cell {
  readonly from_m: number;
  readonly to_m: number;
  readonly top_m: number;
  readonly base_m: number;
  /** Above 0; a cell with NaN is left out. */
  readonly value: number;
  /** 1 full colour, 0 faded to a tenth; default 1. */
  readonly confidence?: number;
  /**
   * Elevation of the surface that the cell's depths hang from, m. Where every cell has one, the
   * vertical axis is elevation and the surface is drawn as a line, true to half a pixel.
   */
  readonly surface_m?: number;
}

/** Labelled bars along chainage, such as blocks, changes or noted objects. */
export interface StretchesPanel {
  readonly kind: "stretches";
  readonly label: string;
  readonly stretches: readonly Stretch[];
  /** Group → colour; groups that are not named take the next of `classColours`. */
  readonly colours?: Readonly<Record<string, string>>;
  /** Heading of the legend; no legend where it is "". */
  readonly legend?: string;
}

export interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
  /** Written in the bar where it fits, and in the tooltip. */
  readonly text: string;
  readonly group: string;
  /** More for the tooltip. */
  readonly detail?: string;
}

/** Single values against chainage. */
export interface PointsPanel {
  readonly kind: "points";
  readonly label: string;
  readonly scale: "linear" | "log";
  readonly points: readonly StripPoint[];
  readonly height_px?: number;
  readonly domain?: readonly [number, number];
  readonly legend?: string;
}

export interface StripPoint {
  readonly x_m: number;
  readonly y: number;
  readonly lo?: number;
  readonly hi?: number;
  readonly group: string;
  readonly text?: string;
}

/** Rows over chainage in which only what stands out is inked, such as one row a channel. */
export interface RowsPanel {
  readonly kind: "rows";
  readonly label: string;
  readonly rows: readonly StripRow[];
  /** Group → colour, in the order of the legend. */
  readonly colours: Readonly<Record<string, string>>;
  /** Heading of the legend. */
  readonly legend: string;
  /** Headings over the rows' names and over their notes. */
  readonly nameLabel?: string;
  readonly noteLabel?: string;
}

export interface StripRow {
  /** Written at the left; no two rows have the same. */
  readonly name: string;
  /** Written at the right. */
  readonly note?: string;
  readonly stretches: readonly {
    readonly from_m: number;
    readonly to_m: number;
    readonly group: string;
  }[];
}
