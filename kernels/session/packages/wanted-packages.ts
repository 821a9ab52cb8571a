import { builtinModules } from "node:module";
import type TypeScript from "typescript";
import { compilerText } from "../cell/cell-text.js";
import { loadTypeScript } from "../types/typescript.js";
import { PackageFault } from "./package-fault.js";

/** A package that a cell asks for by `// install` behind its import. */
export interface WantedPackage {
  readonly name: string;
  /** The exact version, where the comment gives one. */
  readonly version: string | null;
  /** What the import names: the package, or a path within it. */
  readonly specifier: string;
}

const comment = /^[ \t]*;?[ \t]*\/\/[ \t]*install(?:[ \t]+(\S+))?[ \t]*\r?$/m;
const exactVersion = /^\d+\.\d+\.\d+(?:-[0-9A-Za-z.-]+)?(?:\+[0-9A-Za-z.-]+)?$/;
/** Source: npm documentation, "package.json", `name`. */
const packageName = /^(?:@[a-z0-9~-][a-z0-9._~-]*\/)?[a-z0-9~-][a-z0-9._~-]*$/;

export function isExactVersion(text: string): boolean {
  return exactVersion.test(text);
}

/** Whether a cell may ask for packages; says so of every one that does. */
export function mayWantPackages(source: string): boolean {
  return /\/\/[ \t]*install\b/.test(source);
}

/**
 * The packages that the cell's imports ask for, in their order: `import { mean } from "statistics"; //
 * install 2.1.0`. The version may be left out. Several words behind `install` are an ordinary comment.
 * Throws PackageFault where it is asked for what is no package, or in no exact version.
 */
export function wantedPackages(source: string): readonly WantedPackage[] {
  if (!mayWantPackages(source)) return [];
  const ts = loadTypeScript();
  const text = compilerText(source);
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.ES2022);
  return file.statements.filter(ts.isImportDeclaration).flatMap(({ moduleSpecifier, end }) => {
    const found = comment.exec(lineBehind(text, end));
    if (found === null) return [];
    return [wanted((moduleSpecifier as TypeScript.StringLiteral).text, found[1] ?? null)];
  });
}

function lineBehind(text: string, end: number): string {
  return text.slice(end).split("\n", 1)[0] ?? "";
}

function wanted(specifier: string, version: string | null): WantedPackage {
  const name = nameIn(specifier);
  if (specifier.startsWith("node:") || builtinModules.includes(name)) {
    throw new PackageFault(`"${specifier}" is part of Node and need not be installed`);
  }
  if (name === "banquette") throw new PackageFault("banquette comes with the kernel");
  if (!packageName.test(name)) {
    throw new PackageFault(`"${specifier}" is no name of a package, which "// install" is for`);
  }
  if (version !== null && !isExactVersion(version)) {
    const rule = "must be an exact version such as 2.1.0, or left out for the latest";
    throw new PackageFault(`${name}: what follows "// install" ${rule}, got "${version}"`);
  }
  return { name, version, specifier };
}

/** `@scope/name/path` → `@scope/name`. */
function nameIn(specifier: string): string {
  return specifier
    .split("/")
    .slice(0, specifier.startsWith("@") ? 2 : 1)
    .join("/");
}
