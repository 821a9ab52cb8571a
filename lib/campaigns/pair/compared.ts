import type { Changes } from "./changes.js";

/** Two campaigns compared, with what the account needs beside the value. */
export interface Comparison {
  readonly value: Changes;
  /** True where both campaigns were taken to 25 °C. */
  readonly corrected: boolean;
  /** What is particular to the way they were compared. */
  readonly cautions: readonly string[];
}
