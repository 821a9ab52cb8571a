import { tmpdir } from "node:os";
import { join } from "node:path";
import { murmur2 } from "./murmur2.js";
import { ScriptLines } from "./script-lines.js";

/** A cell as it runs: the name of its script, its text and the source map from one to the other. */
export interface DebuggedCell {
  readonly name: string;
  readonly source: string;
  readonly map: string;
}

/** How front ends make the path of a cell's source of its text, while debugging. */
export const sourcePaths = {
  hashMethod: "Murmur2",
  hashSeed: 0x5ed6,
  tmpFilePrefix: join(tmpdir(), `banquette-${process.pid}-`),
  tmpFileSuffix: ".ts",
} as const;

export function pathOf(source: string): string {
  const { hashSeed, tmpFilePrefix, tmpFileSuffix } = sourcePaths;
  return `${tmpFilePrefix}${murmur2(source, hashSeed)}${tmpFileSuffix}`;
}

interface KnownCell {
  readonly path: string;
  readonly lines: ScriptLines;
}

/** The cells that have run, by the names of their scripts and by the paths of their sources. */
export class DebuggedCells {
  readonly #cells = new Map<string, KnownCell>();
  readonly #sources = new Map<string, string>();
  readonly #names = new Map<string, string>();

  add({ name, source, map }: DebuggedCell): KnownCell {
    const cell = { path: this.dump(source), lines: new ScriptLines(map) };
    this.#cells.set(name, cell);
    return cell;
  }

  /** Keeps a text that the front end may set breakpoints in; gives its path. */
  dump(source: string): string {
    const path = pathOf(source);
    this.#sources.set(path, source);
    return path;
  }

  /** V8 has read a script; it numbers them. */
  parsed(scriptId: string, name: string): void {
    if (/^cell-\d+$/.test(name)) this.#names.set(scriptId, name);
  }

  /** The cell of the script with this number. */
  ofScript(scriptId: string): KnownCell | null {
    return this.of(this.#names.get(scriptId) ?? "");
  }

  of(name: string): KnownCell | null {
    return this.#cells.get(name) ?? null;
  }

  sourceAt(path: string): string | null {
    return this.#sources.get(path) ?? null;
  }

  /** Scripts of the cells with this source. */
  scriptsOf(path: string): readonly (readonly [name: string, lines: ScriptLines])[] {
    return [...this.#cells].flatMap(([name, cell]) =>
      cell.path === path ? [[name, cell.lines] as const] : [],
    );
  }
}
