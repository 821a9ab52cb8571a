/** One reading over the spot of a height test. */
export interface HeightReading {
  /** Of the coils above ground, m. */
  readonly height_m: number;
  /** Channel field → value in the channel's unit; missing values are left out. */
  readonly values: Readonly<Record<string, number>>;
  /** s since 1970; null or left out where it is not known: no drift is taken off then. */
  readonly time_s?: number | null;
}
