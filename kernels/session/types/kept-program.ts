import type TypeScript from "typescript";
import { type Builder, lazyBuilder } from "../cell/plain-builder.js";
import { cellName, changedEmit, declarationsName, type EmittedCell } from "./cell-emit.js";
import { usePreparedFiles } from "./prepared-types.js";
import type { SeenTs } from "./typescript.js";

/** The host that the converter makes for a watched program of files. */
export type WatchHost = TypeScript.WatchCompilerHostOfFilesAndCompilerOptions<Builder>;

// Of the package, and left out of its declarations.
type MakesHosts = SeenTs & {
  createCompilerHostFromProgramHost(
    host: WatchHost,
    options: () => TypeScript.CompilerOptions,
  ): TypeScript.CompilerHost;
};

/** What the host has beside, as the type services set it. */
type Resolving = Pick<
  TypeScript.CompilerHost,
  "resolveModuleNameLiterals" | "getModuleResolutionCache" | "hasInvalidatedResolutions"
>;

/**
 * Takes the place of TypeScript's watched program under the converter: one program for each text that
 * is checked, made when it is first asked for from the files of the one before. (The converter changes
 * a cell's text once more when it has read the cell's names, for which no program is needed.)
 */
export function keptProgram(ts: SeenTs, emitted: EmittedCell): SeenTs["createWatchProgram"] {
  const create = (host: WatchHost) => {
    const files = new KeptFiles(ts, host);
    let last: TypeScript.Program | undefined;
    const programOf = () => {
      last = ts.createProgram({
        rootNames: host.rootFiles,
        options: host.options,
        host: files.host,
        ...(last && { oldProgram: last }),
      });
      return last;
    };
    const build = () => {
      const builder = lazyBuilder(ts, {
        options: host.options,
        fileOf: (name) => files.ofCell(name),
        programOf,
      });
      host.afterProgramCreate?.(changedEmit(ts, builder, emitted, () => files.spoiled()));
    };
    let due: unknown = null;
    const rebuilt = () => {
      due = null;
      build();
    };
    for (const name of host.rootFiles) {
      host.watchFile(name, () => {
        files.changed(name);
        if (due !== null) host.clearTimeout?.(due);
        due = host.setTimeout?.(rebuilt, 0);
      });
    }
    build();
    return { close: () => files.close() };
  };
  return create as unknown as SeenTs["createWatchProgram"];
}

/** Source files by name, as the programs of one session share them. */
class KeptFiles {
  readonly host: TypeScript.CompilerHost;
  readonly #ts: SeenTs;
  readonly #given: WatchHost;
  readonly #files = new Map<string, TypeScript.SourceFile>();
  readonly #watchers = new Map<string, TypeScript.FileWatcher>();

  constructor(ts: SeenTs, given: WatchHost) {
    this.#ts = ts;
    this.#given = given;
    const { options } = given;
    const base = (ts as MakesHosts).createCompilerHostFromProgramHost(given, () => options);
    usePreparedFiles(ts, base, options);
    const { getSourceFile } = base;
    this.host = Object.assign(base, resolvingOf(given), {
      getSourceFile: (name: string, ...rest: never[]) => {
        const known = this.ofCell(name) ?? this.#files.get(name);
        if (known !== undefined) return known;
        const file = getSourceFile.call(base, name, ...(rest as unknown as [never]));
        if (file !== undefined) this.#keep(name, file);
        return file;
      },
    });
  }

  /** The cell, or the declarations before it, read once for each text; undefined for another file. */
  ofCell(name: string): TypeScript.SourceFile | undefined {
    if (!name.endsWith(cellName) && !name.endsWith(declarationsName)) return undefined;
    const known = this.#files.get(name);
    if (known !== undefined) return known;
    const target = this.#given.options.target ?? this.#ts.ScriptTarget.ES2022;
    const text = this.#given.readFile(name) ?? "";
    const file = this.#ts.createSourceFile(name, text, target);
    this.#files.set(name, file);
    return file;
  }

  /** One of them may have another text. */
  changed(name: string): void {
    const same = name.endsWith(declarationsName) && this.#files.get(name)?.text;
    if (same !== this.#given.readFile(name)) this.#files.delete(name);
  }

  /** The converter has taken out of the declarations what the cell declares anew. */
  spoiled(): void {
    for (const name of this.#files.keys()) {
      if (name.endsWith(declarationsName)) this.#files.delete(name);
    }
  }

  close(): void {
    for (const watcher of this.#watchers.values()) watcher.close();
  }

  #keep(name: string, file: TypeScript.SourceFile): void {
    this.#files.set(name, file);
    const watcher = this.#given.watchFile(name, () => {
      this.#files.delete(name);
      this.#watchers.get(name)?.close();
      this.#watchers.delete(name);
    });
    this.#watchers.set(name, watcher);
  }
}

function resolvingOf(given: WatchHost): Resolving {
  const { resolveModuleNameLiterals, getModuleResolutionCache, hasInvalidatedResolutions } =
    given as Resolving;
  return {
    ...(resolveModuleNameLiterals && { resolveModuleNameLiterals }),
    ...(getModuleResolutionCache && { getModuleResolutionCache }),
    ...(hasInvalidatedResolutions && { hasInvalidatedResolutions }),
  };
}
