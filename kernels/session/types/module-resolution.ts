import { existsSync } from "node:fs";
import { isBuiltin } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type TypeScript from "typescript";
import { isOwnPackage } from "../run/own-packages.js";
import { cellName } from "./cell-emit.js";
import { preparedImport } from "./prepared-types.js";
import type { Ts } from "./typescript.js";

type Host = TypeScript.WatchCompilerHostOfFilesAndCompilerOptions<TypeScript.BuilderProgram>;

const here = fileURLToPath(import.meta.url);

/**
 * What a cell or a file beside it imports is looked for each time: a file or a package that was not
 * there when a cell failed may be there now. Packages keep what they have found. Packages that come with
 * this one are found where the folder has none of its own.
 */
export function resolveAnew(ts: Ts, host: Host, folder: string): void {
  const cache = ts.createModuleResolutionCache(folder, (name) => name, host.options);
  const prepared = preparedImport(ts, host.options);
  const ofUser = (file: string) => !file.includes(inPackages);
  // Without it, each program asks for the package.json of each declaration file.
  host.getModuleResolutionCache = () => cache;
  host.hasInvalidatedResolutions = (file) => file.endsWith(cellName);
  host.resolveModuleNameLiterals = (literals, file, redirected, options) =>
    literals.map(({ text }) => {
      if (isBuiltin(text)) return ambient;
      const ready = prepared(text, file);
      if (ready !== null) return { resolvedModule: ready };
      const known = ofUser(file) ? undefined : cache;
      const found = ts.resolveModuleName(text, file, options, host, known, redirected);
      const other = found.resolvedModule === undefined ? elsewhere(text, folder) : null;
      if (other === null) return found;
      return ts.resolveModuleName(other.name, other.file, options, host, cache, redirected);
    });
}

/** Node's own modules have no file: their declarations name them. */
const ambient = { resolvedModule: undefined };

const inPackages = "/node_modules/";

// Where else a module is looked for: from which file, under which name.
function elsewhere(text: string, folder: string): { name: string; file: string } | null {
  if (isOwnPackage(text)) return { name: text, file: here };
  // `outer/node_modules/inner`, as declarations name a type of a package within another one's folder.
  const at = text.lastIndexOf(inPackages);
  const outer = at < 0 ? null : packageFolder(text.slice(0, at), folder);
  if (outer === null) return null;
  return { name: text.slice(at + inPackages.length), file: join(outer, "index.ts") };
}

function packageFolder(name: string, from: string): string | null {
  const path = join(from, "node_modules", name);
  if (existsSync(path)) return path;
  return dirname(from) === from ? null : packageFolder(name, dirname(from));
}
