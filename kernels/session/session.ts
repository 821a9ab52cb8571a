import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { bundlesOf } from "./bundles.js";
import { createEvaluator } from "./evaluator.js";
import { createLoader, type Loader } from "./loader.js";
import { sessionGlobal } from "./made-nodes.js";
import { readOptionLines } from "./option-lines.js";
import { OutputQueue } from "./output-queue.js";
import { type CellOutput, displayOutput, type MimeBundle, resultOutput } from "./outputs.js";
import { captureStreams } from "./streams.js";
import { errorOutput, type RanCell, sourceName, traceInCells } from "./traceback.js";
import { typeErrorOutput } from "./type-error-output.js";
import { createTypeServices } from "./type-services.js";

export interface SessionOptions {
  /** Absolute path of the notebook's folder: imports resolve from there. */
  readonly folder: string;
  /** Receives every output, in the order in which the cells asked for them. */
  readonly onOutput: (output: CellOutput) => void;
}

export interface CellOutcome {
  /** False where the type check failed or the cell threw; an `error` output says why. */
  readonly ok: boolean;
  /** 1 for the session's first cell. */
  readonly executionCount: number;
}

/** What a running cell reaches through the session's global. */
interface CellSide extends Pick<Loader, "load" | "named"> {
  readonly meta: { readonly url: string; readonly dirname: string };
  shown: unknown;
  thrown: unknown;
}

/**
 * Evaluates the cells of one notebook, one after the other. Every top-level name has one binding,
 * in this process's global scope, so a process holds one session. A cell that fails the type check
 * does not run; what a cell did before it threw stays.
 */
export class Session {
  readonly #folder: string;
  readonly #outputs: OutputQueue;
  readonly #types: ReturnType<typeof createTypeServices>;
  readonly #evaluator = createEvaluator();
  readonly #cellSide: CellSide;
  readonly #cells = new Map<string, RanCell>();
  readonly #undo: (() => void)[] = [];
  #declarations = "";
  #count = 0;

  constructor(options: SessionOptions) {
    this.#folder = options.folder;
    this.#outputs = new OutputQueue(options.onOutput);
    this.#types = createTypeServices(options.folder);
    const loader = createLoader(options.folder);
    this.#cellSide = cellSide(loader, options.folder);
    this.#undo.push(
      defineGlobals({
        [sessionGlobal]: this.#cellSide,
        display: (...values: unknown[]) => this.#display(values),
        require: loader.require,
        __dirname: options.folder,
      }),
      captureStreams((name, text) => this.#outputs.add([{ output_type: "stream", name, text }])),
      traceInCells(this.#cells, options.folder),
      onStrayErrors((error) => this.#report(error)),
    );
  }

  /** Checks and runs one cell; resolves when all its outputs have been handed on. */
  async execute(cell: string): Promise<CellOutcome> {
    const source = readOptionLines(cell).code;
    this.#count += 1;
    const executionCount = this.#count;
    const checked = this.#types.check(this.#declarations, source);
    if (checked.faults.length > 0) {
      this.#outputs.add([typeErrorOutput(source, checked.faults)]);
      await this.#outputs.settled();
      return { ok: false, executionCount };
    }
    this.#declarations = checked.declarations;
    const name = sourceName(executionCount);
    this.#cells.set(name, { count: executionCount, source, map: checked.map });
    const ok = await this.#run(checked.code, name);
    return { ok, executionCount };
  }

  /** Gives the process back its streams and globals. */
  close(): void {
    for (const undo of this.#undo) undo();
    this.#evaluator.close();
    this.#types.close();
  }

  async #run(code: string, name: string): Promise<boolean> {
    this.#cellSide.shown = undefined;
    try {
      const evaluation = await this.#evaluator.evaluate(code, name);
      if (evaluation.threw) throw evaluation.error;
      this.#outputs.add(this.#result(this.#cellSide.shown));
      await this.#outputs.settled();
      return true;
    } catch (error) {
      await this.#outputs.settled().catch(() => undefined);
      this.#outputs.add([errorOutput(error, this.#cells, this.#folder)]);
      return false;
    } finally {
      this.#cellSide.shown = undefined;
    }
  }

  async #result(value: unknown): Promise<readonly CellOutput[]> {
    const [first, ...others] = await bundlesOf(value);
    if (first === undefined) return [];
    return [resultOutput(first, this.#count), ...others.map(displayOutput)];
  }

  #display(values: readonly unknown[]): void {
    for (const value of values) {
      const made = bundlesOf(value).then((bundles: readonly MimeBundle[]) =>
        bundles.map(displayOutput),
      );
      this.#outputs.add(made);
    }
  }

  #report(error: unknown): void {
    const { traceback } = errorOutput(error, this.#cells, this.#folder);
    const text = `Not caught: ${traceback.join("\n")}\n`;
    this.#outputs.add([{ output_type: "stream", name: "stderr", text }]);
  }
}

function cellSide(loader: Loader, folder: string): CellSide {
  const meta = { url: pathToFileURL(join(folder, "cell.js")).href, dirname: folder };
  return { load: loader.load, named: loader.named, meta, shown: undefined, thrown: undefined };
}

function defineGlobals(values: Readonly<Record<string, unknown>>): () => void {
  for (const [name, value] of Object.entries(values)) {
    Object.defineProperty(globalThis, name, {
      value,
      configurable: true,
      writable: true,
      enumerable: false,
    });
  }
  return () => {
    for (const name of Object.keys(values)) Reflect.deleteProperty(globalThis, name);
  };
}

// Errors that no cell waits for: a rejected promise left alone, a throw in a timer.
function onStrayErrors(report: (error: unknown) => void): () => void {
  process.on("unhandledRejection", report);
  process.on("uncaughtException", report);
  return () => {
    process.off("unhandledRejection", report);
    process.off("uncaughtException", report);
  };
}
