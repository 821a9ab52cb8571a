import type { CallListener } from "./show/call-bars.js";
import type { ErrorOutput, MimeBundle, SentOutput } from "./show/outputs.js";
import type { WidgetModels } from "./widgets/widget-models.js";

export interface SessionOptions {
  /** Absolute path of the notebook's folder: imports resolve from there. */
  readonly folder: string;
  /**
   * Receives every output, in the order in which the cells asked for them, with the origin that was
   * given to `execute` for the cell from which it comes, however late.
   */
  readonly onOutput: (output: SentOutput, origin: unknown) => void;
  /** Does work of the session's own that an interrupt must not cut in two. Default: just does it. */
  readonly shield?: <Value>(work: () => Value) => Value;
  /** Told how far a long call within a cell is. Default: draws a bar of it. */
  readonly onCall?: CallListener;
  /** Whether `// install` behind an import has npm install the package. Default false. */
  readonly installs?: boolean;
  /** Where widgets are shown. Default: nowhere, and each keeps the value that it is declared with. */
  readonly widgets?: WidgetModels;
  /** Told of each cell before its first statement; what it gives is waited for. Default: nothing. */
  readonly beforeCell?: (cell: CellScript) => Promise<void> | null;
  /** Further globals of the cells. */
  readonly globals?: Readonly<Record<string, unknown>>;
  /**
   * Whether a cell says so when it uses a name made from something that has been made anew since.
   * Default true. `// no-notices` at the top of a cell switches it off for that cell.
   */
  readonly notices?: boolean;
}

/** A cell as V8 knows it. */
export interface CellScript {
  readonly name: string;
  readonly source: string;
  /** Source map of the script, as JSON. */
  readonly map: string;
}

export interface ExecuteOptions {
  /** No result, no count: what the cell prints and displays is sent all the same. Default false. */
  readonly silent?: boolean;
  /** False leaves the execution count as it is. Default: not `silent`. */
  readonly storeHistory?: boolean;
  /** Whatever the caller knows the cell by; handed on with its outputs. */
  readonly origin?: unknown;
  /** The front end's id of the cell: tells a cell that runs again from another one. Default: none. */
  readonly cellId?: string;
}

export interface CellOutcome {
  /** False where the type check failed, the cell threw or was interrupted. */
  readonly ok: boolean;
  /** 1 for the session's first cell that counts. */
  readonly executionCount: number;
  /** The error output that was sent, where `ok` is false. */
  readonly error?: ErrorOutput;
}

/** Value of an expression that was evaluated for a front end. */
export type ExpressionOutcome =
  | { readonly ok: true; readonly data: MimeBundle }
  | { readonly ok: false; readonly error: ErrorOutput };
