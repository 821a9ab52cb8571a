import { matchesGlob } from "./glob.js";
import type { Content } from "./messages.js";

/** Session number, line number, input, or input with output. */
export type HistoryRow = readonly [
  number,
  number,
  string | readonly [input: string, output: string | null],
];

interface Entry {
  readonly line: number;
  readonly input: string;
  readonly output: string | null;
}

/** The one session that an in-memory history knows. */
const session = 1;

/** Cells executed in this process, for `history_request`. */
export class History {
  readonly #entries: Entry[] = [];

  add(line: number, input: string, output: string | null): void {
    this.#entries.push({ line, input, output });
  }

  /** Rows that a `history_request` asks for, oldest first; none for a request that makes no sense. */
  rows(request: Content): readonly HistoryRow[] {
    const found = this.#found(request);
    return found.map(({ line, input, output }) => [
      session,
      line,
      request.output === true ? [input, output] : input,
    ]);
  }

  #found(request: Content): readonly Entry[] {
    switch (request.hist_access_type) {
      case "range":
        return this.#range(request);
      case "tail":
        return last(this.#entries, count(request.n));
      case "search":
        return this.#search(request);
      default:
        return [];
    }
  }

  // Session 0 is the running one; its number and 0 are the same here.
  #range({ session: asked, start, stop }: Content): readonly Entry[] {
    if (asked !== undefined && asked !== 0 && asked !== session) return [];
    const from = typeof start === "number" ? start : 0;
    const to = typeof stop === "number" ? stop : Number.POSITIVE_INFINITY;
    return this.#entries.filter(({ line }) => line >= from && line < to);
  }

  #search({ pattern, unique, n }: Content): readonly Entry[] {
    const glob = typeof pattern === "string" ? pattern : "*";
    const found = this.#entries.filter(({ input }) => matchesGlob(input, glob));
    const kept = unique === true ? lastOfEach(found) : found;
    return last(kept, count(n));
  }
}

function count(n: unknown): number {
  return typeof n === "number" && n >= 0 ? n : Number.POSITIVE_INFINITY;
}

function last<Item>(items: readonly Item[], n: number): readonly Item[] {
  return items.slice(Math.max(0, items.length - n));
}

function lastOfEach(entries: readonly Entry[]): readonly Entry[] {
  const byInput = new Map<string, Entry>();
  for (const entry of entries) {
    byInput.delete(entry.input);
    byInput.set(entry.input, entry);
  }
  return [...byInput.values()];
}
