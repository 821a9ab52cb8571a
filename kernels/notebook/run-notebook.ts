import type { CellOutput, ErrorOutput } from "../session/show/outputs.js";
import { type CellTimes, executedMetadata } from "./cell-metadata.js";
import {
  type CellResult,
  type CellRunner,
  startCellRunner,
  WorkerEnded,
  WorkerFailed,
} from "./cell-runner.js";
import { type Cell, type CodeCell, hasTag, type Notebook, runs } from "./notebook.js";
import { packagesOf, withPackages } from "./notebook-packages.js";
import { type Parameters, withParameters } from "./parameters.js";
import type { CallProgress } from "./worker-messages.js";

export interface RunOptions {
  readonly notebook: Notebook;
  /** Absolute path of the folder in which the cells run; imports resolve from there. */
  readonly folder: string;
  /** Values for names that the cell tagged `parameters` declares; none by default. */
  readonly set?: Parameters;
  /** Stores when each cell began and ended in its metadata; false by default. */
  readonly timing?: boolean;
  /** Told before and after each cell that runs. */
  readonly onProgress?: (progress: CellProgress) => void;
  /** Aborting it kills the process in which the cells run; `runNotebook` then rejects. */
  readonly signal?: AbortSignal;
}

export interface CellProgress {
  readonly cell: CodeCell;
  /** 1 for the first cell that runs. */
  readonly number: number;
  /** Cells that will run. */
  readonly of: number;
  /** Null before the cell ran. */
  readonly elapsed_s: number | null;
  /** How far a long call within it is; null where it has none yet, or ended. */
  readonly call: CallProgress | null;
}

export interface NotebookRun {
  /** The executed notebook. After a failure the cells below hold no outputs and no counts. */
  readonly notebook: Notebook;
  /** The cell at which the run stopped, and its error; null where every cell ran. */
  readonly failed: { readonly cell: CodeCell; readonly error: ErrorOutput } | null;
}

/**
 * Runs a notebook from top to bottom in a fresh process and stores its outputs. Stops at the first
 * cell that fails, unless it is tagged `raises-exception`. Counts, outputs and keys depend only on
 * the notebook and its inputs, unless `timing` asks for times. Rejects with NotebookFault before
 * any cell runs where a package that cells ask for is not there; those that are go on record in the
 * metadata.
 */
export async function runNotebook(options: RunOptions): Promise<NotebookRun> {
  const notebook = withParameters(options.notebook, options.set ?? {});
  options.signal?.throwIfAborted();
  const packages = packagesOf(notebook, options.folder);
  const runner = startCellRunner(options.folder);
  const stop = () => void runner.stop();
  options.signal?.addEventListener("abort", stop);
  try {
    const metadata = withPackages(notebook.metadata, packages);
    return await runCells({ ...notebook, metadata }, runner, options);
  } finally {
    options.signal?.removeEventListener("abort", stop);
    await runner.stop();
  }
}

async function runCells(
  notebook: Notebook,
  runner: CellRunner,
  options: RunOptions,
): Promise<NotebookRun> {
  const of = notebook.cells.filter(runs).length;
  const cells: Cell[] = [];
  let failed: NotebookRun["failed"] = null;
  let number = 0;
  for (const cell of notebook.cells) {
    if (cell.cell_type !== "code" || failed !== null || !runs(cell)) {
      cells.push(cleared(cell));
      continue;
    }
    number += 1;
    const tell = (call: CallProgress | null) =>
      options.onProgress?.({ cell, number, of, elapsed_s: null, call });
    tell(null);
    const start = performance.now();
    const began = new Date();
    const given = await runCell(cell, number, { runner, tell, signal: options.signal });
    const times: CellTimes | null = options.timing === true ? { began, ended: new Date() } : null;
    const ran = { ...given, metadata: executedMetadata(cell, times) };
    cells.push(ran);
    const elapsed_s = (performance.now() - start) / 1000;
    options.onProgress?.({ cell: ran, number, of, elapsed_s, call: null });
    failed = failureOf(ran);
  }
  return { notebook: { ...notebook, cells }, failed };
}

interface Running {
  readonly runner: CellRunner;
  readonly tell: (call: CallProgress) => void;
  readonly signal: AbortSignal | undefined;
}

async function runCell(cell: CodeCell, number: number, running: Running): Promise<CodeCell> {
  let result: CellResult;
  try {
    result = await running.runner.run(cell.source, running.tell);
  } catch (error) {
    running.signal?.throwIfAborted();
    if (!(error instanceof WorkerEnded || error instanceof WorkerFailed)) throw error;
    const { name, message } = error;
    const output: ErrorOutput = {
      output_type: "error",
      ename: name,
      evalue: message,
      traceback: [`${name}: ${message}`],
    };
    return { ...cell, execution_count: number, outputs: [output] };
  }
  return { ...cell, execution_count: result.executionCount, outputs: result.outputs };
}

function cleared(cell: Cell): Cell {
  if (cell.cell_type !== "code") return cell;
  const metadata = executedMetadata(cell, null);
  return { ...cell, metadata, execution_count: null, outputs: [] };
}

function failureOf(cell: CodeCell): NotebookRun["failed"] {
  const error = cell.outputs.find(isError);
  if (error === undefined) return null;
  const isKernels = error.ename === "KernelEnded" || error.ename === "KernelFailed";
  if (hasTag(cell, "raises-exception") && !isKernels) return null;
  return { cell, error };
}

function isError(output: CellOutput): output is ErrorOutput {
  return output.output_type === "error";
}
