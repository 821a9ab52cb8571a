import { AsyncLocalStorage } from "node:async_hooks";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { directivesOf } from "./cell/cell-text.js";
import { type Completeness, completenessOf } from "./cell/is-complete.js";
import { sessionGlobal } from "./cell/made-nodes.js";
import { Lineage } from "./lineage/lineage.js";
import type { LineageData, PlannedCell } from "./lineage/lineage-data.js";
import { PackageInstaller } from "./packages/install-packages.js";
import { mayWantPackages } from "./packages/wanted-packages.js";
import { createBindingOf } from "./run/binding-values.js";
import { BuiltInReplaced, keepBuiltIns } from "./run/built-ins.js";
import { createEvaluator } from "./run/evaluator.js";
import { Interrupted, Interruption } from "./run/interruption.js";
import { createLoader, type Loader } from "./run/loader.js";
import { defineGlobals, onStrayErrors } from "./run/process-globals.js";
import { type CellSide, RunningCell } from "./run/running-cell.js";
import { errorOutput, type RanCell, sourceName, traceInCells } from "./run/traceback.js";
import type {
  CellOutcome,
  CellScript,
  ExecuteOptions,
  ExpressionOutcome,
  SessionOptions,
} from "./session-options.js";
import { bundlesOf } from "./show/bundles.js";
import { type CallListener, callBars, callListener } from "./show/call-bars.js";
import { createDisplay } from "./show/display.js";
import { noFrontEnd } from "./show/no-front-end.js";
import { OutputQueue, type Pending } from "./show/output-queue.js";
import {
  type CellOutput,
  displayOutput,
  type ErrorOutput,
  type MimeBundle,
  resultOutput,
} from "./show/outputs.js";
import { createProgress } from "./show/progress.js";
import { reloadOutput } from "./show/reload-output.js";
import { showing } from "./show/showing.js";
import { ShownRecords } from "./show/shown-records.js";
import { captureStreams } from "./show/streams.js";
import { captorsNotice } from "./types/captured-types.js";
import { type Completion, complete } from "./types/completion.js";
import { type Inspection, inspect } from "./types/inspection.js";
import { NamesTypes } from "./types/names-types.js";
import { typeErrorOutput } from "./types/type-error-output.js";
import type { CheckedCell } from "./types/type-services.js";
import { createWidgets } from "./widgets/widgets.js";

/** What running cells reach through the session's global; each its own side by its execution. */
interface CellsSide extends Pick<Loader, "load" | "named">, Pick<Interruption, "wait" | "each"> {
  readonly meta: { readonly url: string; readonly dirname: string };
  thrown: unknown;
  [run: `run${number}`]: CellSide;
}

/** A cell on its way: what it ended with, or the error output. */
type Ended = { readonly shown: unknown } | { readonly error: ErrorOutput };

/**
 * Evaluates the cells of one notebook, one after the other; one may begin while another waits. Every
 * top-level name has one binding, in this process's global scope, so a process holds one session. A
 * cell that fails the type check does not run; what a cell did before it threw or was interrupted stays.
 */
export class Session {
  readonly #folder: string;
  readonly #outputs: OutputQueue;
  readonly #types: NamesTypes;
  readonly #evaluator = createEvaluator();
  readonly #putBackBuiltIns = keepBuiltIns();
  readonly #interruption = new Interruption();
  readonly #cellsSide: CellsSide;
  readonly #cells = new Map<string, RanCell>();
  readonly #lineage: Lineage;
  readonly #loader: Loader;
  readonly #notices: boolean;
  readonly #installer: PackageInstaller | null;
  readonly #records = new ShownRecords();
  readonly #undo: (() => void)[] = [];
  readonly #origins = new AsyncLocalStorage<unknown>();
  readonly #onCall: CallListener;
  readonly #beforeCell: (cell: CellScript) => Promise<void> | null;
  readonly #shield: <Value>(work: () => Value) => Value;
  #lastOrigin: unknown;
  /** Cells that have begun and are not recorded yet, in the order of their beginning. */
  readonly #running = new Set<RunningCell>();
  #count = 0;
  #execution = 0;

  constructor(options: SessionOptions) {
    this.#folder = options.folder;
    this.#notices = options.notices ?? true;
    this.#beforeCell = options.beforeCell ?? (() => null);
    this.#shield = options.shield ?? ((work) => work());
    this.#outputs = new OutputQueue(options.onOutput, () => this.origin());
    this.#types = new NamesTypes(options.folder);
    const add = (outputs: Pending) => this.#outputs.add(outputs);
    const { folder } = options;
    const types = this.#types.services.options;
    this.#installer =
      options.installs === true ? new PackageInstaller({ folder, options: types, add }) : null;
    const loader = createLoader(options.folder, {
      onReload: (paths) => this.#outputs.add([reloadOutput(paths, options.folder)]),
      sources: this.#cells,
    });
    this.#loader = loader;
    this.#lineage = new Lineage({ stampOf: loader.stampOf, bindingOf: createBindingOf() });
    this.#cellsSide = cellsSide(loader, this.#interruption, options.folder);
    const display = createDisplay(this.#outputs, this.#records);
    const now = () => performance.now();
    const progress = createProgress(display, now);
    this.#onCall = options.onCall ?? callBars(progress, now);
    this.#undo.push(
      defineGlobals({
        ...noFrontEnd,
        ...options.globals,
        [sessionGlobal]: this.#cellsSide,
        display,
        clearOutput: (wait = false) =>
          this.#outputs.add([{ output_type: "clear_output", wait: Boolean(wait) }]),
        ...showing,
        ...createWidgets({
          models: options.widgets ?? null,
          display,
          execution: () => this.#current()?.execution ?? this.#execution,
          // What a cell that runs waited for, it has taken as it is.
          chosen: (widget) => {
            if (this.#running.size === 0) this.#lineage.changedByHand(widget);
          },
        }),
        progress,
        require: loader.require,
        __dirname: options.folder,
      }),
      captureStreams((name, text) => this.#outputs.add([{ output_type: "stream", name, text }])),
      traceInCells(this.#cells, options.folder),
      onStrayErrors((error) => this.#report(error)),
      () => Reflect.deleteProperty(globalThis, callListener),
    );
  }

  /** Checks an empty cell, so that the first one need not wait for the compiler's own files. */
  warmUp(): void {
    this.within(undefined, () => this.#types.services.check("", { source: "", execution: 0 }));
  }

  /** Number of the last cell that counts. */
  get executionCount(): number {
    return this.#count;
  }

  /** Origin of the code that runs now; of the last cell where that cannot be told. */
  origin(): unknown {
    return this.#origins.getStore() ?? this.#lastOrigin;
  }

  /** Does work whose outputs have this origin. */
  within<Value>(origin: unknown, work: () => Value): Value {
    return this.#origins.run(origin, work);
  }

  /** Checks and runs one cell; resolves when all its outputs have been handed on. */
  execute(source: string, options: ExecuteOptions = {}): Promise<CellOutcome> {
    const { origin } = options;
    this.#lastOrigin = origin;
    return this.within(origin, () => this.#execute(source, options));
  }

  async #execute(source: string, options: ExecuteOptions): Promise<CellOutcome> {
    const { silent = false, storeHistory = !silent } = options;
    if (storeHistory) this.#count += 1;
    const executionCount = this.#count;
    const run = this.#begin(source, options.origin);
    const ended = await this.#abandonable(run, async () => {
      const ran = await this.#run(run, this.#plan(run, options));
      if ("shown" in ran && !silent) this.#outputs.add(this.#result(ran.shown, executionCount));
      return ran;
    });
    if (!("error" in ended)) return { ok: true, executionCount };
    this.#outputs.add([ended.error]);
    return { ok: false, executionCount, error: ended.error };
  }

  /** Counts an execution that was answered without the session. */
  countOther(): number {
    this.#count += 1;
    return this.#count;
  }

  /** The bundle of an expression's value, without an output of its own. */
  async expression(code: string): Promise<ExpressionOutcome> {
    let data: MimeBundle = {};
    const run = this.#begin(code, this.origin());
    const ended = await this.#abandonable(run, async () => {
      const ran = await this.#run(run);
      if ("shown" in ran) data = (await bundlesOf(ran.shown))[0] ?? { "text/plain": "undefined" };
      return ran;
    });
    return "error" in ended ? { ok: false, error: ended.error } : { ok: true, data };
  }

  /**
   * Ends a cell that waits, within a tenth of a second; false where no cell runs. A cell that
   * computes has to be stopped first, by `Runtime.terminateExecution` from another thread.
   */
  interrupt(): boolean {
    return this.#interruption.interrupt();
  }

  /** Names that may stand at the cursor; positions count UTF-16 units. */
  complete(code: string, cursor: number): Completion {
    const place = { code, cursor, folder: this.#folder };
    const { services, declarations } = this.#types;
    return complete(services.converter, declarations, place);
  }

  /**
   * Signature and documentation of what is at the cursor, or is called around it. With `detail` 1
   * also the text of a function or class that a cell declared.
   */
  inspect(code: string, cursor: number, detail: 0 | 1 = 0): Inspection {
    const textOf = detail === 0 ? () => null : (name: string) => this.#lineage.textOf(name);
    const moreOf = this.#loader.optionsOf;
    const { services, declarations } = this.#types;
    return inspect(services.converter, declarations, { code, cursor, textOf, moreOf });
  }

  /** Whether a text can run as a cell, by its syntax. */
  isComplete(code: string): Completeness {
    return completenessOf(code);
  }

  /** What was made from what, by which executions of which cells. */
  lineage(): LineageData {
    return this.#lineage.data();
  }

  /** Cells that have run, by the names of their scripts. */
  cells(): readonly CellScript[] {
    return [...this.#cells].flatMap(([name, { source, map, isFile }]) =>
      isFile === true ? [] : [{ name, source, map }],
    );
  }

  /** Tells that cells are no longer in the notebook: nothing makes their names any more. */
  cellsDeleted(cellIds: readonly string[]): void {
    this.#lineage.remove(cellIds, this.#count);
  }

  /** Gives the process back its streams and globals. */
  close(): void {
    for (const undo of this.#undo) undo();
    this.#evaluator.close();
    this.#types.services.close();
  }

  #begin(source: string, origin: unknown): RunningCell {
    this.#execution += 1;
    return new RunningCell({ source, execution: this.#execution, count: this.#count, origin });
  }

  // The cell whose code runs now, of those that have begun.
  #current(): RunningCell | undefined {
    const origin = this.origin();
    return [...this.#running].find((one) => one.origin === origin);
  }

  // Runs until the outputs are handed on; an interrupt ends that, too.
  async #abandonable(run: RunningCell, act: () => Promise<Ended>): Promise<Ended> {
    // What a timer or a promise of an earlier cell changed meanwhile.
    this.#putBackBuiltIns();
    // A call that was stopped as it computed could not put it back.
    Reflect.set(globalThis, callListener, this.#onCall);
    try {
      const ended = await this.#interruption.guarded(run.execution, async () => {
        const ran = await act();
        await this.#outputs.settled(run.origin);
        return ran;
      });
      if (!(ended instanceof Interrupted)) return ended;
      this.#outputs.abandon();
      return this.#failed(ended);
    } catch (error) {
      this.#putBackBuiltIns();
      await this.#outputs.settled(run.origin).catch(() => undefined);
      return this.#failed(error);
    } finally {
      this.#record(run, run.side.at);
      run.side.shown = undefined;
    }
  }

  #plan({ source, count }: RunningCell, { cellId }: ExecuteOptions): () => PlannedCell {
    return () => {
      const by = { execution: count, cell: cellId ?? null };
      return this.#lineage.plan(source, by, { isBeside: this.#running.size > 0 });
    };
  }

  async #run(run: RunningCell, plan?: () => PlannedCell): Promise<Ended> {
    const { source, execution, side } = run;
    if (plan !== undefined && mayWantPackages(source)) await this.#provide(run);
    const checked = this.#shield(() => this.#prepare(run, plan));
    if (checked.faults.length > 0) return { error: typeErrorOutput(source, checked.faults) };
    const name = sourceName(execution);
    const before = this.#beforeCell({ name, source, map: checked.map });
    if (before !== null) await this.#interruption.wait(before, execution);
    const ended = await this.#evaluator.evaluate(checked.code, name);
    const evaluation = await run.resources.dispose(ended);
    const changed = this.#putBackBuiltIns();
    if (evaluation.threw) throw evaluation.error;
    if (changed.length > 0) throw new BuiltInReplaced(changed);
    this.#record(run, null);
    return { shown: side.shown };
  }

  // The packages that a cell asks for, before its types are checked.
  async #provide({ source, execution }: RunningCell): Promise<void> {
    if (this.#installer === null) return;
    const provided = this.#installer.provide(source, this.#interruption.signal(execution));
    await this.#interruption.wait(provided, execution);
  }

  // All that a cell needs before its first statement.
  #prepare(run: RunningCell, plan?: () => PlannedCell): CheckedCell {
    const { source, execution, count } = run;
    const { checked, sentences } = this.#types.check(run, this.#lineage);
    if (checked.faults.length > 0) return checked;
    const planned = plan?.();
    const notices = [captorsNotice(sentences), this.#notices ? (planned?.notice ?? null) : null];
    this.#notify(source, notices);
    this.#cells.set(sourceName(execution), { count, source, map: checked.map });
    this.#cellsSide[`run${execution}`] = run.side;
    if (planned === undefined) return checked;
    run.planned = planned;
    for (const other of this.#running) other.beside.push(source);
    this.#running.add(run);
    return checked;
  }

  // Once for each cell; one that is abandoned can no longer do it itself.
  #record(run: RunningCell, reached: number | null): void {
    const { planned, source } = run;
    if (!this.#running.delete(run) || planned === null) return;
    const [other] = [...this.#running].slice(-1);
    if (other !== undefined) this.#lastOrigin = other.origin;
    this.#shield(() => {
      if (reached !== null) this.#types.keep(run, reached, this.#lineage);
      const said = planned.done(reached);
      if (this.#notices) this.#notify(source, [said]);
    });
  }

  #notify(source: string, notices: readonly (CellOutput | null)[]): void {
    const said = notices.filter((one) => one !== null);
    if (said.length > 0 && !directivesOf(source).quiet) this.#outputs.add(said);
  }

  #failed(error: unknown): Ended {
    return { error: errorOutput(error, this.#cells, this.#folder) };
  }

  async #result(value: unknown, executionCount: number): Promise<readonly CellOutput[]> {
    const [first, ...others] = await bundlesOf(value, this.#records);
    if (first === undefined) return [];
    return [resultOutput(first, executionCount), ...others.map(displayOutput)];
  }

  #report(error: unknown): void {
    const { traceback } = errorOutput(error, this.#cells, this.#folder);
    const text = `Not caught: ${traceback.join("\n")}\n`;
    this.#outputs.add([{ output_type: "stream", name: "stderr", text }]);
  }
}

function cellsSide(loader: Loader, interruption: Interruption, folder: string): CellsSide {
  const meta = { url: pathToFileURL(join(folder, "cell.js")).href, dirname: folder };
  const { load, named } = loader;
  const { wait, each } = interruption;
  return { load, named, wait, each, meta, thrown: undefined };
}
