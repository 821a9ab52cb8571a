import type { Debugger } from "node:inspector";
import type { DebuggedCells } from "./debugged-cells.js";
import type { MainInspector } from "./main-inspector.js";
import type { ScriptLines } from "./script-lines.js";

export interface WantedBreakpoint {
  /** In the cell, from 1. */
  readonly line: number;
  /** It pauses only where this is true. */
  readonly condition?: string;
}

/** Breakpoints in cells: those of a source hold for every script that is made of it, now and later. */
export class Breakpoints {
  readonly #cells: DebuggedCells;
  readonly #wanted = new Map<string, readonly WantedBreakpoint[]>();
  readonly #set = new Map<string, string[]>();

  constructor(cells: DebuggedCells) {
    this.#cells = cells;
  }

  /** All of them, by source. */
  get all() {
    return [...this.#wanted]
      .filter(([, breakpoints]) => breakpoints.length > 0)
      .map(([source, breakpoints]) => ({ source, breakpoints }));
  }

  /** Replaces those of one source. */
  async replace(
    path: string,
    wanted: readonly WantedBreakpoint[],
    inspector: MainInspector,
  ): Promise<void> {
    this.#wanted.set(path, wanted);
    for (const breakpointId of this.#set.get(path) ?? []) {
      await inspector.post("Debugger.removeBreakpoint", { breakpointId });
    }
    this.#set.set(path, []);
    for (const [name, lines] of this.#cells.scriptsOf(path)) {
      await this.#setIn(path, name, lines, inspector);
    }
  }

  /** Sets those that a cell about to run has, by its source. */
  async prepare(name: string, inspector: MainInspector): Promise<void> {
    const cell = this.#cells.of(name);
    if (cell !== null) await this.#setIn(cell.path, name, cell.lines, inspector);
  }

  /** To be set anew where the inspector is another one. */
  forget(): void {
    this.#set.clear();
  }

  async #setIn(path: string, url: string, lines: ScriptLines, inspector: MainInspector) {
    const set = this.#set.get(path) ?? [];
    this.#set.set(path, set);
    for (const { line, condition } of this.#wanted.get(path) ?? []) {
      const place = lines.inScript(line - 1)?.script;
      if (place === undefined) continue;
      const at = { url, lineNumber: place.line, columnNumber: place.column };
      const options = { ...at, ...(condition === undefined ? {} : { condition }) };
      // Two lines that begin in one place have one breakpoint.
      const made = await inspector
        .post<Debugger.SetBreakpointByUrlReturnType>("Debugger.setBreakpointByUrl", options)
        .catch(() => null);
      if (made !== null) set.push(made.breakpointId);
    }
  }
}
