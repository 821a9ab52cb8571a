import { join, relative } from "node:path";
import type TypeScript from "typescript";
import { compilerText, directivesOf } from "../cell/cell-text.js";
import { earlierNamed } from "../cell/marked-names.js";
import { Watched } from "../run/watched-files.js";
import { withNewerNode } from "../standard/newer-node.js";
import type { EmittedCell } from "./cell-emit.js";
import { compilerOptions } from "./compiler-options.js";
import { completionsWithKinds } from "./completion-kinds.js";
import { type Declared, declaredIn } from "./declared-anew.js";
import { firstTypeError, isTolerated } from "./diagnostics.js";
import { declarationTexts, withEarlierKept } from "./earlier-types.js";
import { type TypeFault, tellingFaults } from "./faults.js";
import { keptProgram } from "./kept-program.js";
import { resolveAnew } from "./module-resolution.js";
import { prelude } from "./prelude.js";
import { type Converter, createChangedConverter, type SeenTs, type Ts } from "./typescript.js";

export interface CheckedCell {
  readonly faults: readonly TypeFault[];
  /** JavaScript for V8's REPL mode; empty where there are faults. */
  readonly code: string;
  /** Source map from `code` to the cell, as JSON; the cell's line 1 is the map's line 2. */
  readonly map: string;
  /** Declarations of all names after this cell, to be handed to the next check. */
  readonly declarations: string;
}

export interface CellToCheck {
  readonly source: string;
  /** Number of the execution, by which the running cell makes itself known. */
  readonly execution: number;
}

/** Checks cells against the declarations of the cells before, and makes them runnable. */
export interface TypeServices {
  check(declarations: string, cell: CellToCheck): CheckedCell;
  /** tslab's own services on the same program, for completion and inspection. */
  readonly converter: Converter;
  /** The options that cells are compiled with. */
  readonly options: TypeScript.CompilerOptions;
  close(): void;
}

interface Emitted extends EmittedCell {
  /** Type errors do not count; errors of syntax do. */
  unchecked: boolean;
  options: TypeScript.CompilerOptions;
  /** Faults of files outside the notebook's folder, which the converter leaves out. */
  outside: TypeFault[];
}

const preludeName = "__banquette__.d.ts";
/** Type services for cells that stand in `folder`: their imports resolve from there. */
export function createTypeServices(folder: string): TypeServices {
  const nothing = {
    code: "",
    map: "",
    execution: 0,
    unchecked: false,
    options: {},
    outside: [],
  };
  const emitted: Emitted = { ...nothing };
  const watched = new Watched();
  const converter = createChangedConverter((ts) => changes({ ts, folder, emitted, watched }));
  const written = new Map<string, string>();
  const convert = (declarations: string, { source, execution }: CellToCheck): CheckedCell => {
    const { unchecked } = directivesOf(source);
    Object.assign(emitted, { code: "", map: "", execution, unchecked, outside: [] });
    watched.look();
    const result = converter.convert(declarations, compilerText(source));
    const faults = tellingFaults([...result.diagnostics.map(typeFault), ...emitted.outside]);
    if (faults.length > 0) return { faults, code: "", map: "", declarations };
    const { code, map } = emitted;
    return { faults, code, map, declarations: result.declOutput ?? declarations };
  };
  const check = (declarations: string, cell: CellToCheck): CheckedCell => {
    const anew = declaredIn(cell.source).filter(({ name }) => declarations.includes(name));
    const changed = anew.filter(({ name, text }) => text === null || written.get(name) !== text);
    let checked = convert(withEarlierKept(declarations, changed), cell);
    const differing = differingOf(anew, declarations, checked.declarations);
    if (checked.faults.length === 0 && differing.some((one) => !changed.includes(one))) {
      checked = convert(withEarlierKept(declarations, [...changed, ...differing]), cell);
    }
    if (checked.faults.length > 0) return { ...checked, declarations };
    for (const { name, text } of declaredIn(cell.source)) {
      if (text !== null) written.set(name, text);
    }
    return checked;
  };
  return { converter, options: emitted.options, check, close: () => converter.close() };
}

function typeFault(found: ReturnType<Converter["convert"]>["diagnostics"][number]): TypeFault {
  return {
    line: found.start.line,
    column: found.start.character,
    endLine: found.end.line,
    endColumn: found.end.character,
    text: withNewerNode(earlierNamed(found.messageText)),
    code: found.code,
    file: found.fileName ?? null,
  };
}

// Declarations of the same text whose type is another one now, by what they refer to.
function differingOf(anew: readonly Declared[], before: string, after: string): Declared[] {
  const same = anew.filter(({ text }) => text !== null);
  if (same.length === 0 || before === after) return [];
  const [was, is] = [declarationTexts(before), declarationTexts(after)];
  return same.filter(({ name }) => was.has(name) && was.get(name) !== is.get(name));
}

interface Context {
  readonly ts: SeenTs;
  readonly folder: string;
  readonly emitted: Emitted;
  readonly watched: Watched;
}

function changes(context: Context): Partial<SeenTs> {
  const { ts } = context;
  const { getPreEmitDiagnosticsOfFiles } = ts;
  return {
    ...completionsWithKinds(ts),
    sys: quietSystem(context),
    createWatchCompilerHost: changedHost(context),
    createWatchProgram: keptProgram(ts, context.emitted),
    // The converter turns its output into CommonJS with this; the session runs the emit itself.
    transpileModule: (text: string) => ({ outputText: text }),
    getPreEmitDiagnosticsOfFiles: (program, files) => {
      const { emitted } = context;
      const found = getPreEmitDiagnosticsOfFiles(program, files).filter(
        ({ code }) => !isTolerated(code) && !(emitted.unchecked && code >= firstTypeError),
      );
      emitted.outside = found.flatMap((one) => outsideFault(context, one));
      return found;
    },
  };
}

function outsideFault({ ts, folder }: Context, found: TypeScript.Diagnostic): TypeFault[] {
  const { file, start = 0, length = 0, code } = found;
  if (file === undefined || !relative(folder, file.fileName).startsWith("..")) return [];
  const from = ts.getLineAndCharacterOfPosition(file, start);
  const to = ts.getLineAndCharacterOfPosition(file, start + length);
  const text = ts.flattenDiagnosticMessageText(found.messageText, " ");
  const place = {
    line: from.line,
    column: from.character,
    endLine: to.line,
    endColumn: to.character,
  };
  return [{ ...place, text, code, file: relative(folder, file.fileName) }];
}

// Watches only the user's own files, and those only when a cell is checked: packages do not change
// under a session. The prelude exists only here.
function quietSystem({ ts, folder, watched }: Context): TypeScript.System {
  const preludePath = join(folder, preludeName);
  const nothing = { close: () => undefined };
  return Object.assign(Object.create(ts.sys) as TypeScript.System, {
    getCurrentDirectory: () => folder,
    watchFile: (path: string, callback: TypeScript.FileWatcherCallback) =>
      watched.add(path, callback),
    watchDirectory: () => nothing,
    fileExists: (path: string) => path === preludePath || ts.sys.fileExists(path),
    readFile: (path: string, encoding?: string) =>
      path === preludePath ? prelude : ts.sys.readFile(path, encoding),
  });
}

function changedHost(context: Context): Ts["createWatchCompilerHost"] {
  const { ts, folder } = context;
  const create = (
    files: string[],
    options: TypeScript.CompilerOptions,
    ...rest: [TypeScript.System]
  ) => {
    const changed = compilerOptions(ts, folder, options);
    context.emitted.options = changed;
    const roots = [...files, join(folder, preludeName)];
    const host = ts.createWatchCompilerHost(roots, changed, ...rest);
    resolveAnew(ts, host, folder);
    return host;
  };
  return create as unknown as Ts["createWatchCompilerHost"];
}
