import type { Accounting } from "./account.js";
import type { Figure, Table } from "./figure.js";

/** What a step stands on: a statement and where it is published, or "common practice". */
export interface Basis {
  readonly statement: string;
  readonly source: string;
}

/** A warning that travels with a result into the report. */
export interface Caution {
  readonly step: string;
  readonly text: string;
}

/** A step's value together with the step's own account of itself. */
export interface StepAccount<Value> {
  /** The public function's name, such as "correctDrift". */
  readonly step: string;
  /** What was done and found, in one or two plain sentences. */
  readonly summary: string;
  readonly value: Value;
  /** The options as resolved, defaults included. */
  readonly used: Readonly<Record<string, unknown>>;
  readonly basis: readonly Basis[];
  readonly cautions: readonly Caution[];
  /** Null where a step handles no readings. */
  readonly accounting: Accounting | null;
  readonly figures: readonly Figure[];
  readonly tables: readonly Table[];
}
