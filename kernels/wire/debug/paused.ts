import type { Debugger, Runtime } from "node:inspector";
import { asWritten } from "../../session/cell/marked-names.js";
import { type DebugValues, objectGroup } from "./debug-values.js";
import type { DebuggedCells } from "./debugged-cells.js";
import type { MainInspector } from "./main-inspector.js";

export interface PausedFrame {
  readonly id: number;
  readonly name: string;
  readonly line: number;
  readonly column: number;
  readonly source: { readonly path: string };
}

const locals = ["block", "local", "catch", "with"];

/** The main thread where it is paused: its frames within cells, and what they hold. */
export class Paused {
  readonly #frames: readonly Debugger.CallFrame[];
  readonly #cells: DebuggedCells;

  constructor(frames: readonly Debugger.CallFrame[], cells: DebuggedCells) {
    this.#frames = frames;
    this.#cells = cells;
  }

  /** Frames within cells, the innermost first; their numbers are those of the frames as they are. */
  frames(): readonly PausedFrame[] {
    return this.#frames.flatMap(({ functionName, location }, id) => {
      const cell = this.#cells.ofScript(location.scriptId);
      const { lineNumber: line, columnNumber: column = 0 } = location;
      const place = cell?.lines.inCell({ line, column }) ?? null;
      if (cell === null || place === null) return [];
      const name = functionName === "" ? "cell" : asWritten(functionName);
      const source = { path: cell.path };
      return [{ id, name, line: place.line + 1, column: place.column + 1, source }];
    });
  }

  /**
   * What can be seen from a frame, the nearest first: a function's own names with those of its blocks,
   * functions around it, the names of all cells. Globals of Node are left out.
   */
  scopes(frame: number, values: DebugValues) {
    const chain = this.#frames[frame]?.scopeChain ?? [];
    const idsOf = (one: Debugger.Scope) => one.object.objectId ?? [];
    const own = chain.filter(({ type }) => locals.includes(type)).flatMap(idsOf);
    const scope = (name: string, ids: readonly string[]) =>
      ids.length === 0
        ? []
        : [{ name, variablesReference: values.referenceTo(...ids), expensive: false }];
    return [
      ...scope("Locals", own),
      ...chain
        .filter(({ type }) => type === "closure")
        .flatMap((one) => scope(asWritten(`Around ${one.name ?? ""}`.trim()), [idsOf(one)].flat())),
      ...scope("Cells", chain.filter(({ type }) => type === "script").flatMap(idsOf)),
    ];
  }

  /** The number of a frame where it is one, else of the innermost within a cell. */
  frameOr(given: unknown): number {
    return typeof given === "number" ? given : (this.frames()[0]?.id ?? 0);
  }

  async evaluate(
    inspector: MainInspector,
    frame: number,
    expression: string,
  ): Promise<Runtime.EvaluateReturnType> {
    const callFrameId = this.#frames[frame]?.callFrameId;
    const options = { callFrameId, expression, objectGroup, generatePreview: true, silent: true };
    return await inspector.post("Debugger.evaluateOnCallFrame", options);
  }
}
