/** How often a body of sand of one size would have made a zone by the walk's readings alone. */
export interface DetectionBySize {
  readonly length_m: number;
  readonly thickness_m: number;
  /** Share of the places that were tried; NaN where none could be. */
  readonly probability: number;
  readonly places: number;
}
