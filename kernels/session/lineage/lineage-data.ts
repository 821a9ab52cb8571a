import type { BindingOf } from "../run/binding-values.js";
import type { DisplayOutput } from "../show/outputs.js";

/** A value that a name had. */
export interface NamedValue {
  readonly name: string;
  /** Execution count of the cell that made it. */
  readonly execution: number;
  /** The front end's id of that cell; null where it gave none. */
  readonly cell: string | null;
  /** Another number for each value that the name was given anew. */
  readonly version: number;
}

export interface NameLineage extends NamedValue {
  readonly kind: "import" | "function" | "class" | "value";
  /** What the value was made from, as it stood then. */
  readonly reads: readonly NamedValue[];
  /** What its functions read when they are called. */
  readonly readsWhenCalled: readonly string[];
  /** True where something that it was made from has been made anew or removed since. */
  readonly stale: boolean;
  /** Execution count at which its cell ran without making it; else null. */
  readonly removedBy: number | null;
}

export interface ExecutionLineage {
  readonly execution: number;
  readonly cell: string | null;
  readonly defines: readonly string[];
  /** Names of earlier cells that it changed: assigned to, or a property or an element of them. */
  readonly changes: readonly string[];
  readonly reads: readonly NamedValue[];
}

/** What was made from what; plain data. */
export interface LineageData {
  readonly names: readonly NameLineage[];
  readonly executions: readonly ExecutionLineage[];
}

/** A name whose functions use others when they are called. */
export interface Captor {
  readonly name: string;
  /** Execution count of the cell that made it. */
  readonly execution: number;
  /** Its declaration by itself. */
  readonly declaration: string;
}

/** A cell about to run. */
export interface PlannedCell {
  /** Said at the top of the cell's outputs; null where all it uses is up to date. */
  readonly notice: DisplayOutput | null;
  /**
   * Records what the cell did, and gives what is to be said of that. `reached`: the statement that it
   * came to when it threw; null where it ran to its end. What that statement would have made has not
   * been made.
   */
  done(reached: number | null): DisplayOutput | null;
}

export interface LineageOptions {
  /** Something that changes when the file of an import does. Default: never. */
  readonly stampOf?: (specifier: string) => string;
  /** What a top-level name holds. Default: not known; only the syntax tells of changes. */
  readonly bindingOf?: BindingOf;
}
