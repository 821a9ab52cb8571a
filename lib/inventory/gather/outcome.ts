/** How one reach's job ended; a job that leaves none did not end. */
export interface ReachOutcome {
  readonly reach: string;
  readonly state: "interpreted" | "refused";
  /** Every fault, one a line; none where it was interpreted. */
  readonly faults: readonly string[];
}

/** The folder of a reach within an inventory's output, and its files. */
export const REACHES = "reaches";
export const OUTCOME = "outcome.json";
export const RECORD = "record.json";
