import { createRequire } from "node:module";
import { join } from "node:path";
import { constants, Script } from "node:vm";

/** What `import()` resolves to. */
export type Namespace = Readonly<Record<string, unknown>>;

type Import = (specifier: string, options?: ImportCallOptions) => Promise<Namespace>;

/** The library that this kernel belongs to, for notebooks in whose folder it is not installed. */
const ownLibrary = new URL("../../lib/index.js", import.meta.url).href;
const ownName = "banquette";

/** Loads modules for cells, which have no loader of their own in V8's REPL mode. */
export interface Loader {
  /** `import(specifier)` as it would resolve in an ES module in the notebook's folder. */
  load(specifier: string, options?: ImportCallOptions): Promise<Namespace>;
  /** The exports of the names asked for; a missing one throws a SyntaxError as Node does. */
  named(specifier: string, names: readonly string[]): Promise<Namespace>;
  readonly require: NodeJS.Require;
}

export function createLoader(folder: string): Loader {
  const importFrom = importerIn(folder);
  const require = createRequire(join(folder, "cell.js"));
  const load = async (specifier: string, options?: ImportCallOptions): Promise<Namespace> => {
    // Node 20 calls its own import of JSON experimental, and asks for an attribute.
    if (specifier.endsWith(".json")) return { default: require(specifier) as unknown };
    return asDeclared(await importWithFallback(importFrom, specifier, options));
  };
  const named = async (specifier: string, names: readonly string[]): Promise<Namespace> => {
    const namespace = await load(specifier);
    return Object.fromEntries(names.map((name) => [name, exported(namespace, name, specifier)]));
  };
  return { load, named, require };
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
    if (code !== "ERR_MODULE_NOT_FOUND" || specifier !== ownName) throw error;
    return importFrom(ownLibrary);
  }
}

// Node gives a CommonJS module that was compiled from ES syntax as the default export. Type
// declarations describe it as the ES module it was, so cells get it in that form.
function asDeclared(namespace: Namespace): Namespace {
  const inner = namespace.default;
  if (typeof inner !== "object" || inner === null || !("__esModule" in inner)) return namespace;
  return { default: inner, ...(inner as Namespace) };
}

function exported(namespace: Namespace, name: string, specifier: string): unknown {
  if (name in namespace) return namespace[name];
  const inner = namespace.default;
  if ((typeof inner === "object" || typeof inner === "function") && inner !== null) {
    if (name in inner) return (inner as Namespace)[name];
  }
  throw new SyntaxError(`The module "${specifier}" does not provide an export named "${name}"`);
}
