import { readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import type TypeScript from "typescript";

type Ts = typeof TypeScript;

/**
 * The TypeScript package and the declaration files of JavaScript and Node, read and bound before the
 * process began: Node loads them with a start-up snapshot (`preparingScript` makes its contents).
 */
interface Prepared {
  readonly path: string;
  readonly stamp: string;
  readonly typescript: Ts;
  /** The compiler options that the files were read with, as `optionsKey` writes them. */
  readonly options: string;
  readonly files: ReadonlyMap<string, TypeScript.SourceFile>;
  readonly console: { readonly Console: typeof console.Console };
}

/** V8's own. */
const defaultStackTraceLimit = 10;

/** Where a snapshot leaves what it holds, as a property of the global object. */
export const preparedSlot = "__banquettePrepared";

/** The file tells its version and size: it is too large to be compared. */
export function packageStamp(path: string): string {
  const file = join(dirname(dirname(path)), "package.json");
  const { version } = JSON.parse(readFileSync(file, "utf8")) as { readonly version: string };
  return `${version} ${statSync(path).size}`;
}

/** All options that a declaration file may be read differently for. */
export function optionsKey(options: TypeScript.CompilerOptions): string {
  const { rootDir: _, typeRoots: __, paths: ___, ...others } = options;
  return JSON.stringify(Object.entries(others).sort());
}

let prepared: Prepared | null | undefined;

// Cells must not find it, so it is taken away before the first one runs.
function takePrepared(): Prepared | null {
  if (prepared !== undefined) return prepared;
  const holder = globalThis as { [preparedSlot]?: Prepared };
  prepared = holder[preparedSlot] ?? null;
  delete holder[preparedSlot];
  if (prepared !== null) makeOrdinary(prepared);
  return prepared;
}

// Node 20 leaves two values out in a process that begins with a snapshot; and a child process that
// takes over this one's options must not begin with it.
function makeOrdinary({ console: first }: Prepared): void {
  Error.stackTraceLimit ??= defaultStackTraceLimit;
  console.Console ??= first.Console;
  const at = process.execArgv.indexOf("--snapshot-blob");
  if (at >= 0) process.execArgv.splice(at, 2);
}

/** The package at this path, where the process began with it and it has not been changed since. */
export function preparedTypeScript(path: string): Ts | null {
  const found = takePrepared();
  return found?.path === path && found.stamp === packageStamp(path) ? found.typescript : null;
}

const changedHosts = new WeakSet<TypeScript.CompilerHost>();

/** Takes source files from what the process began with, as long as their text on disk is the same. */
export function usePreparedFiles(
  ts: Ts,
  host: TypeScript.CompilerHost,
  options: TypeScript.CompilerOptions,
): void {
  const found = takePrepared();
  // The converter's TypeScript is another object with the package's own functions.
  if (found?.typescript.createProgram !== ts.createProgram || found.options !== optionsKey(options))
    return;
  if (changedHosts.has(host)) return;
  changedHosts.add(host);
  const { getSourceFile, getSourceFileByPath } = host;
  const current = new Map<string, TypeScript.SourceFile | null>();
  const lookUp = (name: string): TypeScript.SourceFile | null => {
    const file = found.files.get(name);
    if (file === undefined) return null;
    const known = current.get(name);
    if (known !== undefined) return known;
    const same = host.readFile(name) === file.text ? file : null;
    current.set(name, same);
    return same;
  };
  host.getSourceFile = (name, ...rest) => lookUp(name) ?? getSourceFile.call(host, name, ...rest);
  if (getSourceFileByPath === undefined) return;
  host.getSourceFileByPath = (name, ...rest) =>
    lookUp(name) ?? getSourceFileByPath.call(host, name, ...rest);
}
