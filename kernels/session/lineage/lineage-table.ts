import type { Use } from "./lineage-names.js";
import type { Making, StatementScan } from "./lineage-scan.js";

/** One execution of a cell, as a front end or a notebook names it. */
export interface Execution {
  /** Execution count. */
  readonly execution: number;
  /** The front end's name of the cell, where it gives one. */
  readonly cell: string | null;
  /** Another number for each execution, also for those that do not count. */
  readonly run: number;
}

/** A name as a value was made from it: which value it had then. */
export interface Read extends Execution {
  readonly name: string;
  readonly version: number;
  /** The execution that read it. */
  readonly by: Pick<Execution, "execution" | "run">;
}

/** A top-level name as it stands. */
export interface Made extends Execution {
  readonly name: string;
  readonly kind: Making["kind"];
  /** Another number for each value that the name was given anew. */
  readonly version: number;
  readonly reads: ReadonlyMap<string, Read>;
  readonly later: Use;
  readonly fixed: string | null;
  readonly declaration: string | null;
  /** The last execution of another cell that changed it; null where none has. */
  readonly changed: Pick<Execution, "execution" | "run"> | null;
  /** Set when its cell ran again without making it: the execution count then. */
  readonly removedBy: number | null;
}

export type Table = ReadonlyMap<string, Made>;

/** What one statement did. */
export interface Step {
  /** The statement's place in the cell. */
  readonly index: number;
  readonly isHoisted: boolean;
  /** All names that it read, also those that nothing has made. */
  readonly names: readonly string[];
  /** Names that stood there before the cell and that it read. */
  readonly reads: readonly Made[];
  /** Names made anew, and names changed. */
  readonly makes: readonly Made[];
  readonly changes: readonly Made[];
}

export interface Walker extends Execution {
  readonly nextVersion: () => number;
  /** Something that changes when the file of an import does. */
  readonly stampOf: (specifier: string) => string;
}

/** Follows a cell's statements through a table of names; the table itself stays as it is. */
export function walk(table: Table, statements: readonly StatementScan[], by: Walker): Step[] {
  const now = new Map(table);
  const own = new Set<string>();
  return statements.map(({ index, uses, makes }) => {
    const used = reached(uses, now);
    const reads = [...used.reads].flatMap((name) => (own.has(name) ? [] : (now.get(name) ?? [])));
    const anew = makes.filter(({ replaces }) => replaces).map((one) => madeAnew(one, now, by));
    const changed = makes.filter(({ replaces }) => !replaces).map((one) => changedBy(one, now, by));
    const further = [...new Set([...used.writes, ...used.changes])]
      .filter((name) => now.has(name) && !makes.some((one) => one.name === name))
      .map((name) => withReads(now.get(name) as Made, readsOf(name, used, { now, by }), by));
    const changes = [...changed, ...further];
    for (const one of [...anew, ...changes]) now.set(one.name, one);
    for (const { name } of anew) own.add(name);
    const isHoisted = makes.some(({ kind }) => kind === "import" || kind === "function");
    return { index, isHoisted, names: [...used.reads], reads, makes: anew, changes };
  });
}

function madeAnew(making: Making, now: Table, by: Walker): Made {
  const { name, kind, declaration } = making;
  const { execution, cell, run } = by;
  const before = now.get(name);
  const fixed = fixedText(making, by);
  const same = fixed !== null && before?.fixed === fixed && before.removedBy === null;
  const version = same ? before.version : by.nextVersion();
  const reads = readsOf(name, reached(making.from, now), { now, by });
  const alias = making.alias === null ? undefined : now.get(making.alias);
  const later = alias?.later ?? making.later;
  const made = { name, kind, version, execution, cell, run, reads, later, fixed, declaration };
  return { ...made, changed: null, removedBy: null };
}

function fixedText({ kind, fixed }: Making, { stampOf }: Walker): string | null {
  if (kind !== "import" || fixed === null || !fixed.startsWith(".")) return fixed;
  return `${fixed} ${stampOf(fixed.split(" ")[0] ?? "")}`;
}

function changedBy(making: Making, now: Table, by: Walker): Made {
  const before = now.get(making.name);
  if (before === undefined) return madeAnew(making, now, by);
  return withReads(before, readsOf(making.name, reached(making.from, now), { now, by }), by);
}

// A change by another cell than the one that made the value makes another value of it.
function withReads(before: Made, reads: ReadonlyMap<string, Read>, by: Walker): Made {
  const all = { ...before, reads: new Map([...before.reads, ...reads]), fixed: null };
  if (before.run === by.run) return all;
  const { execution, run } = by;
  return { ...all, version: by.nextVersion(), changed: { execution, run } };
}

// State that a statement takes and changes (a generator's seed) is not what its value is made of.
function readsOf(
  name: string,
  { reads, writes }: Reached,
  { now, by }: { readonly now: Table; readonly by: Walker },
): Map<string, Read> {
  const found = new Map<string, Read>();
  for (const read of reads) {
    const one = now.get(read);
    if (one === undefined || read === name || writes.has(read)) continue;
    const { version, cell, run } = one;
    const { execution } = one.changed ?? one;
    const reader = { execution: by.execution, run: by.run };
    found.set(read, { name: read, version, execution, cell, run, by: reader });
  }
  return found;
}

interface Reached {
  readonly reads: ReadonlySet<string>;
  readonly writes: ReadonlySet<string>;
  readonly changes: ReadonlySet<string>;
}

/** What a piece of code reads and writes, the functions that it calls included. */
function reached(use: Use, table: Table): Reached {
  const reads = new Set(use.reads);
  const writes = new Set(use.writes);
  const changes = new Set(use.changes);
  const seen = new Set<string>();
  const follow = (names: Iterable<string>, isCall: boolean): void => {
    for (const name of names) {
      const one = table.get(name);
      if (one === undefined || seen.has(name)) continue;
      seen.add(name);
      for (const read of one.later.reads) reads.add(read);
      for (const write of one.later.writes) writes.add(write);
      for (const change of one.later.changes) changes.add(change);
      follow(one.later.calls, true);
      follow(one.later.touches, false);
      follow(callable(one, table, isCall), true);
    }
  };
  follow(use.calls, true);
  follow(use.touches, false);
  return { reads, writes, changes };
}

// `const g = memo(f)` and `g()` calls f; `const s = new Stack()` and `s.push()` calls Stack's.
function callable(one: Made, table: Table, isCall: boolean): string[] {
  return [...one.reads.keys()].filter((name) => {
    const kind = table.get(name)?.kind;
    return kind === "class" || (isCall && kind === "function");
  });
}
