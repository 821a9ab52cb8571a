import { existsSync } from "node:fs";
import { join, parse } from "node:path";
import { fileURLToPath } from "node:url";
import type TypeScript from "typescript";
import { libraryFiles } from "../standard/library-files.js";
import { nodeTypesFolder, type Ts, tslabTypesFolder } from "./typescript.js";

const ownLibrary = new URL("../../../lib/index.d.ts", import.meta.url);

/** The options that cells in a folder are checked and compiled with, from those of tslab's converter. */
export function compilerOptions(
  ts: Ts,
  folder: string,
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
