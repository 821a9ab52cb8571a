import { readFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import type TypeScript from "typescript";
import { fileStamp, optionsKey, packageStamp, preparedSlot } from "./prepared-types.js";
import { createTypeServices } from "./type-services.js";
import { nodeTypesFolder, typescriptPath } from "./typescript.js";

/**
 * The script from which `node --build-snapshot` makes a start-up snapshot for kernels: it loads the
 * TypeScript package and reads and binds the declaration files that every cell sees, and the library's. Such a script
 * has to be one text, without modules.
 */
export function preparingScript(): string {
  const options = sessionOptions();
  const library = fileURLToPath(new URL("../../../lib/index.js", import.meta.url));
  const names = ["module", "exports", "require", "__filename", "__dirname"].join(", ");
  const given = [typescriptPath, dirname(typescriptPath)].map((one) => JSON.stringify(one));
  const holding = {
    path: typescriptPath,
    stamp: packageStamp(typescriptPath),
    options: optionsKey(options),
  };
  return [
    "const module_ = { exports: {} };",
    `(function (${names}) {`,
    oneByte(readFileSync(typescriptPath, "utf8")),
    `})(module_, module_.exports, ${withoutCrypto}, ${given.join(", ")});`,
    `const stampOf = ((statSync) => ${fileStamp})(require("node:fs").statSync);`,
    `(${hold})(globalThis, module_.exports, stampOf, ${JSON.stringify({ slot: preparedSlot, options, holding, library })});`,
  ].join("\n");
}

// Node 24 ends a process that loads `crypto` after its snapshot has, too. TypeScript does without it:
// it then tells versions of files apart by a hash of its own.
const withoutCrypto = `(name) => {
  if (name === "crypto") throw new Error("not in a snapshot");
  return require(name);
}`;

// V8 keeps a script with any wider character, here those of a few comments, in twice the memory.
function oneByte(text: string): string {
  const escaped = (wide: string) => `\\u${wide.charCodeAt(0).toString(16).padStart(4, "0")}`;
  return text.replace(/[^\0-\xff]/g, escaped);
}

// Without what depends on the notebook's folder.
function sessionOptions(): TypeScript.CompilerOptions {
  const services = createTypeServices(dirname(typescriptPath));
  services.close();
  const { rootDir: _, paths: __, ...options } = services.options;
  return { ...options, typeRoots: [nodeTypesFolder()] };
}

interface Held {
  readonly slot: string;
  readonly options: TypeScript.CompilerOptions;
  readonly holding: object;
  /** Path of the library's entrance: its declarations are read, too. */
  readonly library: string;
}

// Its text runs in the snapshot's process, so it uses nothing but what it is given.
function hold(
  global: Record<string, unknown>,
  ts: typeof TypeScript,
  stampOf: (path: string) => string,
  { slot, options, holding, library }: Held,
): void {
  // One file of its own, which imports the library.
  const host = ts.createCompilerHost(options);
  const { getSourceFile } = host;
  const first = "/first.ts";
  const text = `import type {} from ${JSON.stringify(library)};`;
  host.getSourceFile = (name, ...rest) =>
    name === first ? ts.createSourceFile(name, text, rest[0]) : getSourceFile(name, ...rest);
  const program = ts.createProgram([first], options, host) as ImportsProgram;
  program.getTypeChecker();
  const kept = program.getSourceFiles().filter((file) => file.isDeclarationFile);
  const files = new Map(kept.map((file) => [file.fileName, file]));
  const imports = new Map(
    kept.map((file) => {
      const led = new Map<string, TypeScript.ResolvedModuleFull>();
      program.forEachResolvedModule(({ resolvedModule }, text) => {
        if (resolvedModule !== undefined) led.set(text, resolvedModule);
      }, file);
      return [file.fileName, led];
    }),
  );
  const stamps = Object.fromEntries(kept.map(({ fileName }) => [fileName, stampOf(fileName)]));
  const ownConsole = { Console: console.Console };
  global[slot] = { ...holding, typescript: ts, files, imports, stamps, console: ownConsole };
}

// Of the package, and left out of its declarations.
interface ImportsProgram extends TypeScript.Program {
  forEachResolvedModule(
    take: (
      found: { readonly resolvedModule?: TypeScript.ResolvedModuleFull },
      text: string,
    ) => void,
    file: TypeScript.SourceFile,
  ): void;
}
