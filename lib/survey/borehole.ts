export interface Borehole {
  readonly borehole: string;
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly elevation_m: number;
  readonly depth_m: number;
  readonly strata: readonly Stratum[];
  readonly laboratory: readonly LaboratoryValue[];
}

export interface Stratum {
  readonly top_m: number;
  readonly base_m: number;
  /** ISO 14688-1 letters, such as "siCl". */
  readonly soil: string;
  readonly description: string;
}

export interface LaboratoryValue {
  readonly depth_m: number;
  readonly fines_pct: number | null;
  readonly water_content_pct: number | null;
  readonly hydraulic_conductivity_m_per_s: number | null;
  readonly resistivity_ohm_m: number | null;
}
