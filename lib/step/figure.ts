/** A Vega-Lite 5 specification as plain JSON. */
export type VegaLiteSpec = { readonly [key: string]: unknown };

/** A figure of a result: the finding as its title, the reading instructions as its caption. */
export interface Figure {
  /** Short and stable within a notebook, such as "drift-2031-10". */
  readonly id: string;
  /** The finding in a sentence; the specification shows the same sentence as its title. */
  readonly title: string;
  /** How to read it, with units and the meaning of bands and marks. */
  readonly caption: string;
  readonly spec: VegaLiteSpec;
  /**
   * True where it stands before the result's own words, as the picture that answers at a glance.
   */
  readonly leads?: boolean;
}

/** A small table of a result; numbers are shown with the digits given. */
export interface Table {
  readonly id: string;
  readonly caption: string;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
}

export interface TableColumn {
  readonly field: string;
  /** The heading, with its unit in brackets where it has one: "From (m)". */
  readonly label: string;
  /** Decimals shown for numbers; without it numbers are shown as they are. */
  readonly digits?: number;
}

export type TableRow = { readonly [field: string]: string | number | boolean | null };
