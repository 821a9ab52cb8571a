export interface SoilTemperature {
  readonly time_s: number;
  readonly depth_m: number;
  readonly temperature_degC: number;
}

export interface WaterLevel {
  readonly time_s: number;
  /** "river" or a piezometer's name. */
  readonly point: string;
  readonly level_m: number;
  readonly chainage_m: number | null;
}
