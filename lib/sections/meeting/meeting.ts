/** Walk and section over the same ground, slice by slice. */
export interface SectionMeetsWalk {
  readonly line: string;
  readonly campaign: string;
  /** Stations of the walk that lie over the section, chainage, m. */
  readonly chainage_m: Float64Array;
  readonly slices: readonly MeetingSlice[];
}

/** One slice; log10 of ohm-m at field temperature, n stations; NaN where either has none. */
export interface MeetingSlice {
  readonly top_m: number;
  readonly base_m: number;
  readonly walk: Float64Array;
  readonly walkSd: Float64Array;
  readonly section: Float64Array;
  readonly sectionSd: Float64Array;
  /** Walk less section over the standard deviation of their difference. */
  readonly disagreement: Float64Array;
  /** Mean of walk less section, log10. */
  readonly shift: number;
  /** Root mean square of the disagreement: 1 where both spreads are honest. */
  readonly rms: number;
}
