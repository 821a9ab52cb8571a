import { existsSync } from "node:fs";
import { join, parse, relative } from "node:path";
import { fileURLToPath } from "node:url";
import type TypeScript from "typescript";
import { compilerText, directivesOf } from "../cell/cell-text.js";
import { runnable } from "../cell/cell-transform.js";
import { declaredGlobals, innerVariables, untyped } from "../cell/declared-names.js";
import { earlierNamed } from "../cell/marked-names.js";
import { type Builder, createPlainBuilder } from "../cell/plain-builder.js";
import { usedResources } from "../cell/used-resources.js";
import { Watched } from "../run/watched-files.js";
import { libraryFiles } from "../standard/library-files.js";
import { withNewerNode } from "../standard/newer-node.js";
import { completionsWithKinds } from "./completion-kinds.js";
import { type Declared, declaredIn } from "./declared-anew.js";
import { firstTypeError, isTolerated } from "./diagnostics.js";
import { declarationTexts, withEarlierKept } from "./earlier-types.js";
import { type TypeFault, tellingFaults } from "./faults.js";
import { prelude } from "./prelude.js";
import { usePreparedFiles } from "./prepared-types.js";
import {
  type Converter,
  createChangedConverter,
  nodeTypesFolder,
  type SeenTs,
  type Ts,
  tslabTypesFolder,
} from "./typescript.js";

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

interface Emitted {
  code: string;
  map: string;
  execution: number;
  /** Type errors do not count; errors of syntax do. */
  unchecked: boolean;
  options: TypeScript.CompilerOptions;
  /** Faults of files outside the notebook's folder, which the converter leaves out. */
  outside: TypeFault[];
}

const preludeName = "__banquette__.d.ts";
const ownLibrary = new URL("../../../lib/index.d.ts", import.meta.url);

/** Type services for cells that stand in `folder`: their imports resolve from there. */
export function createTypeServices(folder: string): TypeServices {
  const nothing = {
    code: "",
    map: "",
    execution: 0,
    unchecked: false,
    options: {},
    outside: [],
    opened: [],
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
    const changed = compilerOptions(context, options);
    context.emitted.options = changed;
    const roots = [...files, join(folder, preludeName)];
    const host = ts.createWatchCompilerHost(roots, changed, ...rest);
    resolveAnew(ts, host, folder);
    host.createProgram = (...given) => {
      const [, , compilerHost] = given;
      usePreparedFiles(ts, compilerHost as TypeScript.CompilerHost, changed);
      return changedEmit(context, createPlainBuilder(ts, ...given));
    };
    return host;
  };
  return create as unknown as Ts["createWatchCompilerHost"];
}

// What a cell or a file beside it imports is looked for each time: a file or a package that was not
// there when a cell failed may be there now. Packages keep what they have found.
function resolveAnew(
  ts: Ts,
  host: TypeScript.WatchCompilerHostOfFilesAndCompilerOptions<TypeScript.BuilderProgram>,
  folder: string,
): void {
  const cache = ts.createModuleResolutionCache(folder, (name) => name, host.options);
  const isOwn = (file: string) => !file.includes("/node_modules/");
  host.hasInvalidatedResolutions = (file) => file.endsWith(cellName);
  host.resolveModuleNameLiterals = (literals, file, redirected, options) =>
    literals.map(({ text }) =>
      ts.resolveModuleName(text, file, options, host, isOwn(file) ? undefined : cache, redirected),
    );
}

function compilerOptions(
  { ts, folder }: Context,
  given: TypeScript.CompilerOptions,
): TypeScript.CompilerOptions {
  const { noImplicitUseStrict: _, disableTopLevelAwait: __, ...kept } = given;
  const options: TypeScript.CompilerOptions = {
    ...kept,
    strict: true,
    target: ts.ScriptTarget.ES2022,
    lib: libraryFiles(),
    // Resolves ES imports and the `exports` of packages, relative paths without a file extension.
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    types: ["node"],
    typeRoots: typeRoots(given.typeRoots ?? []),
    checkJs: false,
    experimentalDecorators: false,
    sourceMap: true,
    allowImportingTsExtensions: true,
    // Files above the notebook's folder may be imported, too.
    rootDir: parse(folder).root,
  };
  const resolved = ts.resolveModuleName("banquette", join(folder, "cell.ts"), options, ts.sys);
  if (resolved.resolvedModule !== undefined) return options;
  return { ...options, paths: { banquette: [fileURLToPath(ownLibrary)] } };
}

// The folder's own declarations of Node, else those of the version that this package is made for.
function typeRoots(given: readonly string[]): string[] {
  const own = given.filter((root) => root !== tslabTypesFolder && existsSync(root));
  return [...own, nodeTypesFolder()];
}

// Replaces the converter's rewriting of the cell (two copies of every variable) by our own, and
// keeps what was emitted.
function changedEmit({ ts, emitted }: Context, builder: Builder): Builder {
  const emit = builder.emit;
  builder.emit = (file, write, token, onlyDeclarations, transformers) => {
    // Files that the cell imports are compiled by the loader.
    if (file === undefined || !file.fileName.endsWith(cellName)) return nothingEmitted;
    let declared = false;
    const keep: TypeScript.WriteFileCallback = (name, text, ...rest) => {
      if (name.endsWith("__tslab__.js")) emitted.code = text;
      if (name.endsWith("__tslab__.js.map")) emitted.map = text;
      const isDeclaration = name.endsWith("__tslab__.d.ts");
      declared ||= isDeclaration;
      const more = isDeclaration && file ? innerVariables(ts, builder.getProgram(), file) : "";
      write?.(isDeclaration ? declarationName : codeName, text + more, ...rest);
    };
    const globalNames = (cell: TypeScript.SourceFile) => {
      const program = builder.getProgram();
      const before = program.getSourceFiles().find((one) => one.fileName.endsWith(beforeName));
      return declaredGlobals(ts, program.getTypeChecker(), [cell, before]);
    };
    const ours = {
      before: [usedResources(ts)],
      after: [runnable(ts, () => emitted.execution, globalNames)],
      ...(transformers?.afterDeclarations && {
        afterDeclarations: transformers.afterDeclarations,
      }),
    };
    const result = emit.call(builder, file, keep, token, onlyDeclarations, ours);
    if (!declared && file !== undefined) write?.(declarationName, untyped(ts, file), false);
    return result;
  };
  return builder;
}

const cellName = "/__tslab__.ts";
const beforeName = "/__prev__.d.ts";
const declarationName = "outDir/__tslab__.d.ts";
const codeName = "outDir/__tslab__.js";
const nothingEmitted: TypeScript.EmitResult = { emitSkipped: true, diagnostics: [] };
