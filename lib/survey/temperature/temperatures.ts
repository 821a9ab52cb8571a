/** The soil's temperature at the date of one campaign. */
export interface CampaignTemperature {
  readonly campaign: string;
  /** Middle of the readings, s since 1970; NaN without times. */
  readonly time_s: number;
  /** k temperatures at `depths_m`, °C; NaN where nothing reaches the date. */
  readonly temperature_degC: readonly number[];
  /** k factors by which a conductivity is multiplied to bring it to 25 °C. */
  readonly factorTo25: readonly number[];
  readonly method: "annual wave" | "interpolated" | "none";
}

export interface SoilTemperatures {
  /** k depths, m. */
  readonly depths_m: readonly number[];
  readonly campaigns: readonly CampaignTemperature[];
  /** The annual wave fitted to all measurements; null where they do not determine one. */
  readonly wave: {
    readonly mean_degC: number;
    readonly amplitude_degC: number;
    readonly damping_m: number;
    readonly rms_degC: number;
  } | null;
}
