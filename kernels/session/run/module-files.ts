import { existsSync, readFileSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { Script } from "node:vm";
import type TypeScript from "typescript";
import { loadTypeScript, type Ts } from "../types/typescript.js";
import type { RanCell } from "./traceback.js";

/** What `import()` resolves to. */
export type Namespace = Readonly<Record<string, unknown>>;

export interface ModuleFilesOptions {
  /** Loads what is not a TypeScript file, as a module in that folder would. */
  readonly loadOther: (specifier: string, folder: string) => Promise<Namespace>;
  /** Told of files that were loaded again because they, or files that they import, changed. */
  readonly onReload: (paths: readonly string[]) => void;
  /** Receives the source and the map of each file, for the traces of errors. */
  readonly sources: Map<string, RanCell>;
}

/** TypeScript files that cells import: compiled when they are loaded, loaded again when they change. */
export interface ModuleFiles {
  load(path: string): Promise<Namespace>;
  /** How often the file will have been loaded after its next load: once more where it changed. */
  loadsOf(path: string): number;
}

interface LoadedFile {
  readonly stamp: string;
  /** Paths of the TypeScript files that it imports. */
  readonly imports: Set<string>;
  readonly exports: Record<string, unknown>;
  readonly ready: Promise<void>;
}

const typescriptFile = /\.[cm]?tsx?$/;

/** The TypeScript file that a relative import from `folder` means; null where it means another. */
export function typescriptPath(specifier: string, folder: string): string | null {
  const isPath = /^(\.{1,2}\/|\/|file:)/.test(specifier);
  if (!isPath || specifier.endsWith(".d.ts")) return null;
  const path = specifier.startsWith("file:")
    ? fileURLToPath(specifier)
    : resolve(folder, specifier);
  if (typescriptFile.test(path)) return existsSync(path) ? path : null;
  if (existsSync(path) && statSync(path).isFile()) return null;
  const candidates = /\.[cm]?jsx?$/.test(path)
    ? [path.replace(/js(x?)$/, "ts$1")]
    : [`${path}.ts`, join(path, "index.ts")];
  return candidates.find((one) => existsSync(one)) ?? null;
}

export function createModuleFiles(options: ModuleFilesOptions): ModuleFiles {
  const files = new Files(options);
  let turn: Promise<unknown> = Promise.resolve();
  // One import of a cell after the other: a file that two of them share is loaded once.
  const load = (path: string): Promise<Namespace> => {
    const mine = turn.then(() => files.load(path));
    turn = mine.catch(() => undefined);
    return mine;
  };
  return { load, loadsOf: (path) => files.loadsOf(path) };
}

class Files {
  readonly #options: ModuleFilesOptions;
  readonly #loaded = new Map<string, LoadedFile>();
  readonly #loads = new Map<string, number>();

  constructor(options: ModuleFilesOptions) {
    this.#options = options;
  }

  async load(path: string): Promise<Namespace> {
    const { changed, outdated } = changedIn(this.#loaded, path);
    for (const one of outdated) this.#loaded.delete(one);
    const file = await this.#open(path, new Set());
    if (changed.length > 0) this.#options.onReload(changed);
    return file.exports;
  }

  loadsOf(path: string): number {
    const isCurrent =
      this.#loaded.has(path) && !changedIn(this.#loaded, path).outdated.includes(path);
    return (this.#loads.get(path) ?? 0) + (isCurrent ? 0 : 1);
  }

  /** `above`: the files by whose imports it is opened. */
  async #open(path: string, above: ReadonlySet<string>): Promise<LoadedFile> {
    const known = this.#loaded.get(path);
    if (known !== undefined) {
      // A circle of imports: what is not there yet comes later, as in an ES module.
      if (!above.has(path)) await known.ready;
      return known;
    }
    const { file, run } = this.#prepared(path, above);
    this.#loaded.set(path, file);
    this.#loads.set(path, (this.#loads.get(path) ?? 0) + 1);
    try {
      await run();
    } catch (error) {
      this.#loaded.delete(path);
      throw error;
    }
    return file;
  }

  #prepared(path: string, above: ReadonlySet<string>) {
    const stamp = stampOfFile(path);
    const { code, imports: specifiers } = compiled(path, this.#options.sources);
    const [folder, within] = [dirname(path), new Set([...above, path])];
    const imports = new Set<string>();
    const get = async (specifier: string) => {
      const inner = typescriptPath(specifier, folder);
      if (inner === null) return asModule(await this.#options.loadOther(specifier, folder));
      imports.add(inner);
      return (await this.#open(inner, within)).exports;
    };
    const exports: Record<string, unknown> = {};
    const body = async () => {
      const found = new Map<string, unknown>();
      for (const specifier of specifiers) found.set(specifier, await get(specifier));
      const require = (specifier: string) => found.get(specifier);
      const meta = { url: pathToFileURL(path).href, dirname: folder, filename: path };
      const dynamic = (specifier: string) => get(String(specifier));
      await evaluated(path, code)(exports, require, dynamic, meta);
    };
    const { run, ready } = told(body);
    return { file: { stamp, imports, exports, ready }, run };
  }
}

/** Work that is run later, and a promise of its end; a failure of that one need not be heeded. */
function told(body: () => Promise<void>) {
  let settle: { done: () => void; fail: (error: unknown) => void } | null = null;
  const ready = new Promise<void>((done, fail) => {
    settle = { done, fail };
  });
  ready.catch(() => undefined);
  return { ready, run: () => body().then(settle?.done, passOn(settle)) };
}

function passOn(settle: { fail: (error: unknown) => void } | null) {
  return (error: unknown) => {
    settle?.fail(error);
    throw error;
  };
}

function stampOfFile(path: string): string {
  try {
    const { mtimeMs, size, ino } = statSync(path);
    return `${mtimeMs} ${size} ${ino}`;
  } catch {
    return "gone";
  }
}

// Files that have changed, and those that are outdated with them because they lead to one.
function changedIn(loaded: ReadonlyMap<string, LoadedFile>, path: string) {
  const changed: string[] = [];
  const seen = new Map<string, boolean>();
  const isOutdated = (at: string): boolean => {
    const known = seen.get(at);
    const file = loaded.get(at);
    if (known !== undefined || file === undefined) return known ?? false;
    seen.set(at, false);
    const itself = file.stamp !== stampOfFile(at);
    if (itself) changed.push(at);
    const inner = [...file.imports].map(isOutdated).includes(true);
    seen.set(at, itself || inner);
    return itself || inner;
  };
  isOutdated(path);
  const outdated = [...seen].flatMap(([at, is]) => (is ? [at] : []));
  return { changed, outdated };
}

type Run = (
  exports: object,
  require: (specifier: string) => unknown,
  load: (specifier: string) => Promise<unknown>,
  meta: object,
) => Promise<void>;

const loadName = "__banquetteLoad";
const metaName = "__banquetteMeta";

function evaluated(path: string, code: string): Run {
  const head = `(async function (exports, require, ${loadName}, ${metaName}) {`;
  return new Script(`${head}${code}\n})`, { filename: path }).runInThisContext() as Run;
}

function compiled(path: string, sources: Map<string, RanCell>) {
  const ts = loadTypeScript();
  const source = readFileSync(path, "utf8");
  const { outputText, sourceMapText = "" } = ts.transpileModule(source, {
    fileName: path,
    compilerOptions: {
      module: ts.ModuleKind.CommonJS,
      target: ts.ScriptTarget.ES2022,
      esModuleInterop: true,
      sourceMap: true,
    },
    transformers: { before: [dynamicImports(ts)] },
  });
  sources.set(path, { count: 0, source, map: sourceMapText, isFile: true });
  const code = outputText.replace(/\/\/# sourceMappingURL=.*\s*$/, "");
  const imports = ts.preProcessFile(code, true, true).importedFiles.map((one) => one.fileName);
  return { code, imports: [...new Set(imports)] };
}

// The function in which a file runs has no loader and no `import.meta` of its own.
function dynamicImports(ts: Ts): TypeScript.TransformerFactory<TypeScript.SourceFile> {
  return (context) => (file) => {
    const { factory } = context;
    const visit: TypeScript.Visitor = (node) => {
      const inner = ts.visitEachChild(node, visit, context);
      if (ts.isCallExpression(inner) && inner.expression.kind === ts.SyntaxKind.ImportKeyword) {
        const load = factory.createIdentifier(loadName);
        return factory.updateCallExpression(inner, load, undefined, inner.arguments);
      }
      if (ts.isMetaProperty(inner) && inner.keywordToken === ts.SyntaxKind.ImportKeyword) {
        return factory.createIdentifier(metaName);
      }
      return inner;
    };
    return ts.visitEachChild(file, visit, context);
  };
}

// What compiled code asks of a module, so that it takes its default and its names as they are.
function asModule(namespace: Namespace): object {
  return Object.create(namespace, { __esModule: { value: true } }) as object;
}
