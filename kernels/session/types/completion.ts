import type TypeScript from "typescript";
import { compilerText } from "../cell/cell-text.js";
import { sessionGlobal } from "../cell/made-nodes.js";
import { isMarked } from "../cell/marked-names.js";
import { libraryNames } from "./exported-names.js";
import { type OpenText, openText, pathEntries } from "./path-completion.js";
import type { Converter } from "./typescript.js";

/** Positions count UTF-16 units, as JavaScript strings do. */
export interface Completion {
  /** What may stand in the place; each begins with what is typed. */
  readonly matches: readonly string[];
  readonly cursorStart: number;
  readonly cursorEnd: number;
  readonly metadata: {
    readonly _jupyter_types_experimental: readonly {
      readonly text: string;
      readonly type: string;
      readonly start: number;
      readonly end: number;
    }[];
  };
}

interface Place {
  readonly code: string;
  readonly cursor: number;
}

/** Matches given at the most: a front end draws each one. */
const mostMatches = 500;

/** Names that may stand at the cursor, best first. */
export function complete(
  converter: Converter,
  declarations: string,
  { code, cursor, folder }: Place & { readonly folder: string },
): Completion {
  const at = Math.min(Math.max(0, Math.trunc(cursor) || 0), code.length);
  const quoted = openText(code, at);
  if (quoted !== null) {
    const within = completeQuoted(converter, declarations, { code, cursor: at, folder }, quoted);
    if (within !== null) return within;
  }
  const start = startOfName(code, at);
  const typed = code.slice(start, at);
  const entries = entriesAt(converter, declarations, { code, cursor: at })
    .filter((entry) => isOffered(entry, typed))
    .sort((a, b) => compare(a.sortText, b.sortText) || compare(a.name, b.name));
  const kinds = kindsOf(entries);
  const isFree = quoted === null && code.charAt(start - 1) !== "." && !isRemark(code, at);
  if (isFree && typed.length >= lettersOfUnknown) {
    for (const name of libraryNames()) {
      if (name.startsWith(typed) && !kinds.has(name)) kinds.set(name, kindOfExport(name));
    }
  }
  return offered(kinds, start, at);
}

/** Letters typed before names are offered that still have to be imported. */
const lettersOfUnknown = 3;

function kindsOf(entries: readonly TypeScript.CompletionEntry[]): Map<string, string> {
  const kinds = new Map<string, string>();
  for (const { name, kind } of entries) if (!kinds.has(name)) kinds.set(name, kind);
  return kinds;
}

function kindOfExport(name: string): string {
  return /^[A-Z]/.test(name) ? "class" : "function";
}

function isRemark(code: string, at: number): boolean {
  return /^[^"'`]*\/\//.test(code.slice(code.lastIndexOf("\n", at - 1) + 1, at));
}

// Values that a text may have by its type, else files; in an import modules.
function completeQuoted(
  converter: Converter,
  declarations: string,
  { code, cursor, folder }: Place & { readonly folder: string },
  quoted: OpenText,
): Completion | null {
  if (!quoted.isImport) {
    const values = entriesAt(converter, declarations, { code, cursor }).filter(
      ({ name, kind }) => kind === "string" && name.startsWith(quoted.text),
    );
    if (values.length > 0) return offered(kindsOf(values), cursor - quoted.text.length, cursor);
  }
  const paths = pathEntries(folder, quoted);
  if (paths.length === 0) return null;
  const start = cursor - (quoted.text.length - quoted.text.lastIndexOf("/") - 1);
  return offered(new Map(paths.map(({ name, kind }) => [name, kind])), start, cursor);
}

// Kinds by name, best first, for the place from `start` to `at`.
function offered(kinds: ReadonlyMap<string, string>, start: number, at: number): Completion {
  const best = [...kinds].slice(0, mostMatches);
  return {
    matches: best.map(([name]) => name),
    cursorStart: start,
    cursorEnd: at,
    metadata: {
      _jupyter_types_experimental: best.map(([text, kind]) => ({
        text,
        type: typeWord(kind),
        start,
        end: at,
      })),
    },
  };
}

const nameEnd = /[\p{ID_Continue}$#\u200c\u200d]*$/u;

function startOfName(code: string, cursor: number): number {
  return cursor - (nameEnd.exec(code.slice(0, cursor))?.[0].length ?? 0);
}

// Some places (within a comment, the path of an import) have no completions, or none without a host.
function entriesAt(
  converter: Converter,
  declarations: string,
  { code, cursor }: Place,
): TypeScript.CompletionEntry[] {
  try {
    const info = converter.complete(declarations, compilerText(code), cursor);
    return [...(info.original?.entries ?? [])];
  } catch {
    return [];
  }
}

function isOffered({ name, kind }: TypeScript.CompletionEntry, typed: string): boolean {
  if (!name.startsWith(typed) || name === sessionGlobal || name.startsWith("__tslab__")) {
    return false;
  }
  if (isMarked(name)) return false;
  return kind === "string" || /^[\p{ID_Start}$_#][\p{ID_Continue}$]*$/u.test(name);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

const words: Readonly<Record<string, string>> = {
  const: "instance",
  let: "instance",
  var: "instance",
  "local var": "instance",
  parameter: "instance",
  "local function": "function",
  method: "function",
  "local class": "class",
  getter: "property",
  setter: "property",
  alias: "module",
  interface: "type",
  "primitive type": "type",
  "type parameter": "type",
};

// The words of front ends for what TypeScript calls otherwise.
function typeWord(kind: string): string {
  return words[kind] ?? kind;
}
