const has = (name: string) => name in globalThis;

/** Declaration files of JavaScript, each with whether this process has what it declares. */
const files: readonly (readonly [name: string, isThere: () => boolean])[] = [
  ["es2023", () => true],
  // Those which `supplyMethods` sees to.
  ["es2024.collection", () => true],
  ["es2024.object", () => true],
  ["es2024.promise", () => true],
  ["esnext.array", () => true],
  ["esnext.collection", () => true],
  // Node 20 has them.
  ["es2024.regexp", () => true],
  ["es2024.sharedmemory", () => true],
  ["es2024.string", () => true],
  ["es2024.arraybuffer", () => "transfer" in ArrayBuffer.prototype],
  ["esnext.disposable", () => has("DisposableStack")],
  ["esnext.error", () => "isError" in Error],
  ["esnext.float16", () => has("Float16Array")],
  ["esnext.iterator", () => has("Iterator")],
  ["esnext.promise", () => "try" in Promise],
];

/** The declaration files of what cells find in this version of Node. */
export function libraryFiles(): string[] {
  return files.filter(([, isThere]) => isThere()).map(([name]) => `lib.${name}.d.ts`);
}
