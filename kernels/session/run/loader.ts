import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { constants, Script } from "node:vm";
import {
  createModuleFiles,
  type ModuleFilesOptions,
  type Namespace,
  typescriptPath,
} from "./module-files.js";
import { isOwnPackage } from "./own-packages.js";

type Import = (specifier: string, options?: ImportCallOptions) => Promise<Namespace>;

/** The library that this kernel belongs to, for notebooks in whose folder it is not installed. */
const ownLibrary = new URL("../../../lib/index.js", import.meta.url).href;
const ownName = "banquette";

/** Loads modules for cells, which have no loader of their own in V8's REPL mode. */
export interface Loader {
  /** `import(specifier)` as it would resolve in an ES module in the notebook's folder. */
  load(specifier: string, options?: ImportCallOptions): Promise<Namespace>;
  /** The exports of the names asked for; a missing one throws a SyntaxError as Node does. */
  named(specifier: string, names: readonly string[]): Promise<Namespace>;
  readonly require: NodeJS.Require;
  /** The options of one of our steps as text; null for another name, or before a cell took the library. */
  optionsOf(name: string): string | null;
  /** Another text whenever the TypeScript file of a relative import has changed. */
  stampOf(specifier: string): string;
}

export function createLoader(
  folder: string,
  files: Pick<ModuleFilesOptions, "onReload" | "sources">,
): Loader {
  const others = new Map<string, OtherLoader>();
  const loadOther = (specifier: string, from: string, options?: ImportCallOptions) => {
    const loader = others.get(from) ?? createOtherLoader(from);
    others.set(from, loader);
    return loader(specifier, options);
  };
  const modules = createModuleFiles({ ...files, loadOther });
  const load = (specifier: string, options?: ImportCallOptions): Promise<Namespace> => {
    const path = typescriptPath(String(specifier), folder);
    return path === null ? loadOther(specifier, folder, options) : modules.load(path);
  };
  let library: Namespace | null = null;
  const named = async (specifier: string, names: readonly string[]): Promise<Namespace> => {
    const namespace = await load(specifier);
    if (specifier === ownName) library = namespace;
    return Object.fromEntries(names.map((name) => [name, exported(namespace, name, specifier)]));
  };
  const stampOf = (specifier: string) => {
    const path = typescriptPath(specifier, folder);
    return path === null ? "" : String(modules.loadsOf(path));
  };
  const optionsOf = (name: string) => (library === null ? null : optionsText(library, name));
  return { load, named, optionsOf, stampOf, require: createRequire(join(folder, "cell.js")) };
}

function optionsText({ stepOptions }: Namespace, name: string): string | null {
  if (typeof stepOptions !== "function") return null;
  const options: unknown = stepOptions(name);
  if (typeof options !== "object" || options === null) return null;
  const display = (options as Record<symbol, unknown>)[Symbol.for("Jupyter.display")];
  if (typeof display !== "function") return null;
  return String((display.call(options) as Record<string, unknown>)["text/plain"]);
}

type OtherLoader = (specifier: string, options?: ImportCallOptions) => Promise<Namespace>;

// Packages, Node's own modules, JavaScript and JSON, as an ES module in the folder imports them.
function createOtherLoader(folder: string): OtherLoader {
  const importFrom = importerIn(folder);
  const require = createRequire(join(folder, "cell.js"));
  const isCommonJs = (exports: unknown) =>
    ((typeof exports === "object" && exports !== null) || typeof exports === "function") &&
    Object.values(require.cache).some((module) => module?.exports === exports);
  return async (specifier, options) => {
    // Node 20 calls its own import of JSON experimental, and asks for an attribute.
    if (specifier.endsWith(".json")) {
      const value = readJson(require.resolve(specifier));
      return typeof value === "object" && value !== null ? view(value, value) : { default: value };
    }
    return asDeclared(await importWithFallback(importFrom, specifier, options), isCommonJs);
  };
}

const readFiles = new Map<string, { readonly text: string; readonly value: unknown }>();

// The same object as long as the file stays the same.
function readJson(path: string): unknown {
  const text = readFileSync(path, "utf8");
  const before = readFiles.get(path);
  if (before?.text === text) return before.value;
  const value: unknown = JSON.parse(text);
  readFiles.set(path, { text, value });
  return value;
}

// A script that hands its dynamic imports to Node's own loader: that loader resolves from the
// script's file name and honours the `exports` of packages.
function importerIn(folder: string): Import {
  const script = new Script("(specifier, options) => import(specifier, options)", {
    filename: join(folder, "cell.js"),
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
  });
  const importFrom = script.runInThisContext() as Import;
  withoutWarning(() => void importFrom("node:path"));
  return importFrom;
}

// Node warns once that this way to its loader is experimental; a notebook is not the place for it.
function withoutWarning(first: () => void): void {
  const warn = process.emitWarning;
  process.emitWarning = () => undefined;
  try {
    first();
  } finally {
    process.emitWarning = warn;
  }
}

async function importWithFallback(
  importFrom: Import,
  specifier: string,
  options?: ImportCallOptions,
): Promise<Namespace> {
  try {
    return await importFrom(specifier, options);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== "ERR_MODULE_NOT_FOUND") throw error;
    if (specifier === ownName) return importFrom(ownLibrary);
    if (!isOwnPackage(specifier)) throw error;
    return importFrom(import.meta.resolve(specifier));
  }
}

// Node gives the whole of a CommonJS module as the default export, and by name only what it can see
// in the text. Type declarations promise every property by name, and for a module compiled from ES
// syntax the default that the source had, so cells get it in that form.
function asDeclared(namespace: Namespace, isCommonJs: (exports: unknown) => boolean): Namespace {
  const inner = namespace.default;
  if (!isCommonJs(inner)) return namespace;
  const compiled = "__esModule" in (inner as object) && "default" in (inner as object);
  return view(inner as object, compiled ? (inner as Namespace).default : inner);
}

// Properties are looked up when they are asked for: a module may still be filling them in.
function view(inner: object, fallback: unknown): Namespace {
  const made = Object.create(null) as Record<string, unknown>;
  for (const name of Object.keys(inner)) {
    if (name === "default") continue;
    const get = () => (inner as Namespace)[name];
    Object.defineProperty(made, name, { get, enumerable: true });
  }
  return Object.defineProperty(made, "default", { value: fallback, enumerable: true });
}

function exported(namespace: Namespace, name: string, specifier: string): unknown {
  if (name in namespace) return namespace[name];
  throw new SyntaxError(`The module "${specifier}" does not provide an export named "${name}"`);
}
