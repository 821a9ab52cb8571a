/** One or several small plots of a value against another, side by side. */
export interface CurveFigure {
  readonly title: string;
  readonly subtitle?: string;
  /** Width of the whole figure's plotted areas with their gaps, px; default 780. */
  readonly width_px?: number;
  /** Plots in a row; default: up to 3, by the number of plots. */
  readonly columns?: number;
  readonly x: CurveAxis;
  readonly y: CurveAxis;
  readonly plots: readonly CurvePlot[];
  /** All plots on the same vertical scale; default true. */
  readonly sameY?: boolean;
  /** Heading of the legend; no legend where it is "". */
  readonly legend?: string;
  /** Series name → colour; others take the next of `classColours`. */
  readonly colours?: Readonly<Record<string, string>>;
}

export interface CurveAxis {
  /** With the unit: "Hours since the start (h)". */
  readonly label: string;
  /** "time" takes s since 1970-01-01T00:00Z and shows UTC; only for x. */
  readonly scale: "linear" | "log" | "time";
  readonly domain?: readonly [number, number];
  /** Values grow downward, as depth does; only for y. */
  readonly downward?: boolean;
  /** Keep zero in view (linear). */
  readonly withZero?: boolean;
}

export interface CurvePlot {
  /** Heading; "" for none. */
  readonly label: string;
  readonly series: readonly CurveSeries[];
  /** Grey bands over x with their causes. */
  readonly setAside?: readonly {
    readonly from: number;
    readonly to: number;
    readonly text: string;
  }[];
  /** Dashed rules at x with a text above. */
  readonly marks?: readonly { readonly at: number; readonly text: string }[];
}

export interface CurveSeries {
  readonly name: string;
  /**
   * "line" joins neighbours, "steps" holds a value until the next x, "points" draws single values
   * with error bars where lo and hi are given.
   */
  readonly form: "line" | "steps" | "points";
  readonly x: ArrayLike<number>;
  /** NaN breaks a line. */
  readonly y: ArrayLike<number>;
  readonly lo?: ArrayLike<number>;
  readonly hi?: ArrayLike<number>;
}

/** The plots' common measures, worked out once. */
export interface CurveLayout {
  readonly figure: CurveFigure;
  readonly columns: number;
  readonly width_px: number;
  readonly height_px: number;
  readonly names: readonly string[];
  readonly xDomain: readonly [number, number];
}
