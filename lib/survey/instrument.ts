export type Orientation = "HCP" | "VCP" | "PRP";

export interface Channel {
  readonly field: string;
  readonly kind: "quadrature" | "inphase" | "conductivity";
  readonly unit: "ppm" | "mS/m";
  readonly frequency_Hz: number;
  readonly separation_m: number;
  readonly orientation: Orientation;
}

export interface Instrument {
  /** Height of the coils above ground where a reading gives none. */
  readonly height_m: number;
  readonly channels: readonly Channel[];
}

/** Standard deviation of one reading of a channel: sqrt(floor² + (share_pct / 100 × value)²). */
export interface ReadingNoise {
  readonly resource: string;
  /** The channel's field. */
  readonly channel: string;
  /** In the channel's unit. */
  readonly floor: number;
  readonly share_pct: number;
}
