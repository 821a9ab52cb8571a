/** A plan with the same scale on both axes, in metres from a stated origin. */
export interface PlanMap {
  readonly title: string;
  readonly subtitle?: string;
  /** Width of the plotted area, px; default 780. The height follows from the ground covered. */
  readonly width_px?: number;
  /** EPSG code of the coordinates, stated with the origin. */
  readonly epsg?: number;
  /** Thin lines, such as the centreline, the river's edge, electrode lines. */
  readonly lines: readonly PlanLine[];
  /** Thick coloured lines, such as blocks or slice resistivities. */
  readonly stretches?: readonly PlanStretch[];
  readonly points?: readonly PlanPoint[];
  /** Chainage labels beside the line. */
  readonly ticks?: readonly PlanTick[];
  /** Unit of the stretches' values; shown in the legend. */
  readonly unit?: string;
  /** Heading of the legend of groups. */
  readonly legend?: string;
  /** Group → colour; others take the next of `classColours`. */
  readonly colours?: Readonly<Record<string, string>>;
}

export interface PlanLine {
  readonly name: string;
  /** NaN breaks the line. */
  readonly easting_m: ArrayLike<number>;
  readonly northing_m: ArrayLike<number>;
}

export interface PlanStretch {
  readonly easting_m: ArrayLike<number>;
  readonly northing_m: ArrayLike<number>;
  /** For the tooltip. */
  readonly text: string;
  /** A class; stretches have either a group or a value. */
  readonly group?: string;
  /** A value above 0 on the resistivity ramp and a log scale. */
  readonly value?: number;
}

export interface PlanPoint {
  readonly easting_m: number;
  readonly northing_m: number;
  readonly name: string;
  /** Points of a kind share a shape and a colour. */
  readonly kind: string;
}

export interface PlanTick {
  readonly easting_m: number;
  readonly northing_m: number;
  readonly text: string;
}
