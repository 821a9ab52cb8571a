import type TypeScript from "typescript";
import { runnable } from "../cell/cell-transform.js";
import { declaredGlobals, innerVariables } from "../cell/declared-names.js";
import type { Builder } from "../cell/plain-builder.js";
import { usedResources } from "../cell/used-resources.js";
import { nameByPath } from "./names-by-path.js";
import type { Ts } from "./typescript.js";

/** What the emit of a cell leaves for the session. */
export interface EmittedCell {
  code: string;
  map: string;
  /** Number of the execution that the cell is emitted for. */
  execution: number;
}

// Of the package, and left out of its declarations: the last word has declarations emitted although
// the type of a name cannot be written down, which then is `any`.
interface Forcible {
  emit(...given: [...Parameters<Builder["emit"]>, isForced: boolean]): TypeScript.EmitResult;
}

/** Ends of the paths that the converter gives a cell, and the declarations of the cells before. */
export const cellName = "/__tslab__.ts";
export const declarationsName = "/__prev__.d.ts";
const declarationName = "outDir/__tslab__.d.ts";
const codeName = "outDir/__tslab__.js";
const nothingEmitted: TypeScript.EmitResult = { emitSkipped: true, diagnostics: [] };

/**
 * Replaces the converter's rewriting of the cell (two copies of every variable) by our own, and keeps
 * what was emitted. `after` is told of each emit.
 */
export function changedEmit(
  ts: Ts,
  builder: Builder,
  emitted: EmittedCell,
  after: () => void,
): Builder {
  builder.emit = (file, write, token, onlyDeclarations, transformers) => {
    // Files that the cell imports are compiled by the loader.
    if (file === undefined || !file.fileName.endsWith(cellName)) return nothingEmitted;
    const keep: TypeScript.WriteFileCallback = (name, text, ...rest) => {
      if (name.endsWith("__tslab__.js")) emitted.code = text;
      if (name.endsWith("__tslab__.js.map")) emitted.map = text;
      const isDeclaration = name.endsWith("__tslab__.d.ts");
      const more = isDeclaration && file ? innerVariables(ts, builder.getProgram(), file) : "";
      write?.(isDeclaration ? declarationName : codeName, text + more, ...rest);
    };
    const globalNames = (cell: TypeScript.SourceFile) => {
      const program = builder.getProgram();
      const before = program
        .getSourceFiles()
        .find((one) => one.fileName.endsWith(declarationsName));
      return declaredGlobals(ts, program.getTypeChecker(), [cell, before]);
    };
    const ours = {
      before: [usedResources(ts, () => emitted.execution)],
      after: [runnable(ts, () => emitted.execution, globalNames)],
      ...(transformers?.afterDeclarations && {
        afterDeclarations: transformers.afterDeclarations,
      }),
    };
    nameByPath(ts, builder.getProgram());
    const { emit } = builder.getProgram() as unknown as Forcible;
    after();
    return emit(file, keep, token, onlyDeclarations, ours, true);
  };
  return builder;
}
