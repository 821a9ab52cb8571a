import { createRequire, Module } from "node:module";
import { dirname, join } from "node:path";
import type TypeScript from "@tslab/typescript-for-tslab";
import type { Converter, ConverterOptions } from "tslab/dist/converter.js";
import { preparedTypeScript } from "./prepared-types.js";

/** The TypeScript package that tslab brings; the only one at run time. */
export type Ts = typeof TypeScript;

/** The parts of that package that tslab's converter takes from it and that a session replaces. */
export type TsChanges = Partial<Ts> & {
  getPreEmitDiagnosticsOfFiles?: DiagnosticsOfFiles;
};

export type DiagnosticsOfFiles = (
  program: TypeScript.Program,
  files: readonly TypeScript.SourceFile[],
) => readonly TypeScript.Diagnostic[];

interface ConverterModule {
  createConverter(options?: ConverterOptions): Converter;
}

const requireHere = createRequire(import.meta.url);
const converterPath = requireHere.resolve("tslab/dist/converter.js");
const requireFromTslab = createRequire(converterPath);
export const typescriptPath = requireFromTslab.resolve("@tslab/typescript-for-tslab");

let loaded: { readonly ts: Ts; readonly seen: Ts; readonly module: ConverterModule } | null = null;

export function loadTypeScript(): Ts {
  const { cache } = requireFromTslab;
  if (cache[typescriptPath] === undefined) {
    const prepared = preparedTypeScript(typescriptPath);
    if (prepared !== null) cache[typescriptPath] = loadedModule(prepared);
  }
  return requireFromTslab(typescriptPath) as Ts;
}

function loadedModule(exports: unknown): NodeJS.Module {
  const module = new Module(typescriptPath);
  return Object.assign(module, { exports, filename: typescriptPath, loaded: true });
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
 * tslab's converter with parts of its TypeScript package replaced. The converter fixes its compiler
 * options, its watching of files and its emit inside; what it takes from the package is the one
 * place where they can be changed without a copy of the converter.
 */
export function createChangedConverter(changes: (ts: Ts) => TsChanges): Converter {
  loaded ??= loadConverter();
  Object.assign(loaded.seen, changes(loaded.ts));
  return loaded.module.createConverter();
}

// The converter is loaded while the module cache shows it a copy of the package's exports.
function loadConverter() {
  const ts = loadTypeScript();
  const entry = requireFromTslab.cache[typescriptPath];
  if (entry === undefined) throw new Error("the TypeScript package of tslab did not load");
  const seen: Ts = { ...ts };
  entry.exports = seen;
  try {
    return { ts, seen, module: requireFromTslab(converterPath) as ConverterModule };
  } finally {
    entry.exports = ts;
  }
}
