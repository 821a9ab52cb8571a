export interface Centreline {
  /** Vertices in projected coordinates, m, and their chainages, m on the ground (not the grid). */
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  readonly chainage_m: Float64Array;
  /** EPSG code of the projected coordinates, such as 32631. */
  readonly epsg: number;
  /** PROJ string of the projected coordinates; without it that of `epsg`, a UTM zone. */
  readonly projection?: string;
}
