import { createRequire, Module } from "node:module";
import { dirname, join } from "node:path";
import type { Converter as TslabConverter } from "tslab/dist/converter.js";
import type TypeScript from "typescript";
import { preparedTypeScript } from "./prepared-types.js";
import { type TslabParts, tslabParts } from "./tslab-parts.js";

/** The TypeScript package that this one depends on; the only one at run time. */
export type Ts = typeof TypeScript;

/** TypeScript as tslab's converter sees it. */
export type SeenTs = Ts & TslabParts;

/** tslab's converter, which answers in the words of the TypeScript that it works with. */
export interface Converter extends Omit<TslabConverter, "inspect" | "complete"> {
  inspect(declarations: string, code: string, at: number): TypeScript.QuickInfo | undefined;
  complete(
    declarations: string,
    code: string,
    at: number,
  ): { readonly original?: TypeScript.CompletionInfo };
}

interface ConverterModule {
  createConverter(): Converter;
}

const requireHere = createRequire(import.meta.url);
const converterPath = requireHere.resolve("tslab/dist/converter.js");
const requireFromTslab = createRequire(converterPath);
const tslabTypescriptPath = requireFromTslab.resolve("@tslab/typescript-for-tslab");
export const typescriptPath = requireHere.resolve("typescript");

let loaded: { readonly ts: Ts; readonly seen: SeenTs; readonly module: ConverterModule } | null =
  null;

export function loadTypeScript(): Ts {
  const { cache } = requireHere;
  if (cache[typescriptPath] === undefined) {
    const prepared = preparedTypeScript(typescriptPath);
    if (prepared !== null) cache[typescriptPath] = loadedModule(typescriptPath, prepared);
  }
  return requireHere(typescriptPath) as Ts;
}

function loadedModule(filename: string, exports: unknown): NodeJS.Module {
  return Object.assign(new Module(filename), { exports, filename, loaded: true });
}

/** Where the converter looks for declarations of Node when a notebook's folder has none. */
export const tslabTypesFolder = join(dirname(dirname(converterPath)), "node_modules", "@types");

/** The folder with the declarations of Node that this package brings, else those that tslab does. */
export function nodeTypesFolder(): string {
  const file = "@types/node/package.json";
  try {
    return dirname(dirname(requireHere.resolve(file)));
  } catch {
    return dirname(dirname(requireFromTslab.resolve(file)));
  }
}

/**
 * tslab's converter on current TypeScript, with parts of it replaced. The converter asks for a build
 * of TypeScript 5.0 of its own, and fixes its compiler options, its watching of files and its emit
 * inside; what it takes from that package is the one place where all this can be changed without a
 * copy of the converter. Its own TypeScript is never loaded.
 */
export function createChangedConverter(changes: (ts: SeenTs) => Partial<SeenTs>): Converter {
  loaded ??= loadConverter();
  const { ts, seen, module } = loaded;
  Object.assign(seen, changes({ ...ts, ...tslabParts(ts) }));
  return module.createConverter();
}

// The converter is loaded while the module cache shows it ours in place of its own.
function loadConverter() {
  const ts = loadTypeScript();
  const seen: SeenTs = { ...ts, ...tslabParts(ts) };
  const { cache } = requireFromTslab;
  const own = cache[tslabTypescriptPath];
  cache[tslabTypescriptPath] = loadedModule(tslabTypescriptPath, seen);
  try {
    return { ts, seen, module: requireFromTslab(converterPath) as ConverterModule };
  } finally {
    if (own === undefined) delete cache[tslabTypescriptPath];
    else cache[tslabTypescriptPath] = own;
  }
}
