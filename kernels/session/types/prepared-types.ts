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
  /** Of each of these files, what its imports were resolved to, by their text. */
  readonly imports: ReadonlyMap<string, ReadonlyMap<string, TypeScript.ResolvedModuleFull>>;
  /** Of each of them, how it stood on disk when it was read, as `fileStamp` writes it. */
  readonly stamps: Readonly<Record<string, string>>;
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

/** How a file stands on disk: another text without another stamp would have to be made by hand. */
export function fileStamp(path: string): string {
  const found = statSync(path, { throwIfNoEntry: false });
  return found === undefined ? "" : `${found.size} ${found.mtimeMs} ${found.ctimeMs} ${found.ino}`;
}

const current = new Map<string, TypeScript.SourceFile | null>();

// A file of this name, as long as it has the same text on disk. A copied package has other stamps.
function preparedFile({ files, stamps }: Prepared, name: string): TypeScript.SourceFile | null {
  const known = current.get(name);
  if (known !== undefined) return known;
  const file = files.get(name);
  if (file === undefined) return null;
  const isSame = stamps[name] === fileStamp(name) || readFileSync(name, "utf8") === file.text;
  current.set(name, isSame ? file : null);
  return isSame ? file : null;
}

/** Whether source files of a process that reads with these options come from its snapshot. */
function fits({ typescript, options }: Prepared, ts: Ts, asked: TypeScript.CompilerOptions) {
  // The converter's TypeScript is another object with the package's own functions.
  return typescript.createProgram === ts.createProgram && options === optionsKey(asked);
}

/** Takes source files from what the process began with, as long as their text on disk is the same. */
export function usePreparedFiles(
  ts: Ts,
  host: TypeScript.CompilerHost,
  options: TypeScript.CompilerOptions,
): void {
  const found = takePrepared();
  if (found === null || !fits(found, ts, options)) return;
  const { getSourceFile } = host;
  host.getSourceFile = (name, ...rest) =>
    preparedFile(found, name) ?? getSourceFile.call(host, name, ...rest);
}

/**
 * What an import of a prepared file was resolved to, as long as that file and the one that it leads to
 * are the same; null for another one.
 */
export function preparedImport(
  ts: Ts,
  options: TypeScript.CompilerOptions,
): (text: string, from: string) => TypeScript.ResolvedModuleFull | null {
  const found = takePrepared();
  if (found === null || !fits(found, ts, options)) return () => null;
  return (text, from) => {
    const led = found.imports.get(from)?.get(text);
    if (led === undefined || preparedFile(found, from) === null) return null;
    return preparedFile(found, led.resolvedFileName) === null ? null : led;
  };
}
