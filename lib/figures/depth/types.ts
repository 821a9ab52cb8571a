/** Panels side by side over one depth axis that grows downward. */
export interface DepthFigure {
  readonly title: string;
  readonly subtitle?: string;
  /** Depth at the lower end of the axis, m, over 0. */
  readonly base_m: number;
  /** Left to right. */
  readonly panels: readonly DepthPanel[];
  /**
   * Grey from this depth down, with the text at its top in the last panel of values; \n breaks it.
   */
  readonly below?: { readonly from_m: number; readonly text: string };
}

export type DepthPanel = ValuesPanel | ColumnPanel;

/** Values to the right, depth downward. */
export interface ValuesPanel {
  readonly kind: "values";
  /** Heading of the panel. */
  readonly label: string;
  /** Title of the axis, with the unit. */
  readonly axis: string;
  readonly scale: "linear" | "log";
  readonly domain?: readonly [number, number];
  /** Default 200. */
  readonly width_px?: number;
  readonly steps?: readonly DepthSteps[];
  readonly curves?: readonly DepthCurve[];
  readonly points?: readonly DepthPoint[];
  /** Heading of the legend; no legend where it is "". */
  readonly legend?: string;
}

/** A value for each layer, drawn as steps, with a band where bounds are given. */
export interface DepthSteps {
  readonly name: string;
  /** k tops, rising; each layer ends where the next begins, the last at the figure's base. */
  readonly top_m: ArrayLike<number>;
  /** k values; NaN breaks the line. */
  readonly value: ArrayLike<number>;
  readonly lo?: ArrayLike<number>;
  readonly hi?: ArrayLike<number>;
}

/** Curves of one name share a colour. */
export interface DepthCurve {
  readonly name: string;
  /** What distinguishes the curve from others of its name, for the tooltip. */
  readonly detail: string;
  readonly depth_m: ArrayLike<number>;
  readonly value: ArrayLike<number>;
}

export interface DepthPoint {
  readonly name: string;
  readonly depth_m: number;
  readonly value: number;
}

/** A column of named layers, such as a borehole's log. */
export interface ColumnPanel {
  readonly kind: "column";
  readonly label: string;
  /** Default 104. */
  readonly width_px?: number;
  readonly layers: readonly {
    readonly top_m: number;
    readonly base_m: number;
    /** Written in the layer where it fits, else `short`, else nothing. */
    readonly text: string;
    readonly short: string;
  }[];
}
