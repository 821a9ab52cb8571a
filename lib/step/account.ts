/** What became of the readings that went into a step. A reading is one row of a readings file. */
export interface Accounting {
  /** Readings handed to the step. */
  readonly readings: number;
  /** Readings in use with the values they came with. */
  readonly kept: number;
  /** Readings in use with values that this step or an earlier one changed. */
  readonly corrected: number;
  /** Readings not in use, by cause. Every reading has one cause at the most. */
  readonly setAside: readonly SetAsideCount[];
}

export interface SetAsideCount {
  readonly cause: string;
  readonly readings: number;
}

/** The number of readings set aside, whatever the cause. */
export function setAsideTotal(accounting: Accounting): number {
  return accounting.setAside.reduce((sum, entry) => sum + entry.readings, 0);
}

/** True where kept, corrected and set aside add up to the readings that came in. */
export function closes(accounting: Accounting): boolean {
  const { readings, kept, corrected } = accounting;
  return kept + corrected + setAsideTotal(accounting) === readings;
}
