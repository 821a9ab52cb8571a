export interface ResistivityLine {
  readonly line: string;
  readonly runs: "along" | "across";
  /** Chainage and offset of x = 0. */
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly electrodes: readonly {
    readonly electrode: number;
    readonly x_m: number;
    readonly elevation_m: number;
  }[];
  readonly readings: readonly ResistivityReading[];
}

export interface ResistivityReading {
  readonly row: number;
  /** Electrode numbers; 0 is remote. */
  readonly a: number;
  readonly b: number;
  readonly m: number;
  readonly n: number;
  readonly current_mA: number;
  readonly voltage_mV: number;
  readonly deviation_pct: number;
  readonly repeat: number | null;
  readonly campaign: string | null;
}
