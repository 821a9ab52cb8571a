import type { Use } from "./lineage-place.js";
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
  readonly base: number;
  /** The execution that read it. */
  readonly by: Pick<Execution, "execution" | "run">;
  /** True where the statement changed it, too, as a generator does its state. */
  readonly isState: boolean;
  /** True where it held then what an earlier run of a cell had changed in it. */
  readonly isDoubtful: boolean;
  /** True where an earlier run of the reading cell had changed it. */
  readonly isOwnChange: boolean;
}

/** A change of a value by another cell than the one that made it. */
export interface Changer extends Execution {
  /** The parts that it set whatever the value was before; null where it may have used the value. */
  readonly parts: ReadonlySet<string> | null;
  /** False where only the value showed it, and not the cell's text. */
  readonly isSeen: boolean;
  /** Execution count at which its cell ran again, or was deleted; null while it stands. */
  readonly supersededBy: number | null;
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
  /** The version that it was made with, before all changes. */
  readonly base: number;
  /** Names whose values it holds as they are. */
  readonly holds: ReadonlySet<string>;
  /** True where its value has been looked at and is an object. */
  readonly isObject: boolean;
  /** Changes by other cells, one for each execution, in their order. */
  readonly changers: readonly Changer[];
  /** Set when its cell ran again without making it: the execution count then. */
  readonly removedBy: number | null;
}

/** True for a run of the same cell before this one. */
export function isEarlierRun({ cell, run }: Execution, by: Execution): boolean {
  return by.cell !== null && cell === by.cell && run !== by.run;
}

/** The last execution of another cell that changed it; null where none has. */
export function lastChange(made: Made): Changer | null {
  return made.changers.at(-1) ?? null;
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

export interface Versioned extends Execution {
  readonly nextVersion: () => number;
}

export interface Walker extends Versioned {
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
    const direct = makes.filter(({ replaces }) => !replaces).map((one) => changedBy(one, now, by));
    const further = [...new Set([...used.writes, ...used.changes])]
      .filter((name) => now.has(name) && !makes.some((one) => one.name === name))
      .map((name) => {
        const reads = readsOf(name, used, { now, by });
        return changed(now.get(name) as Made, { reads, parts: null, isSeen: true }, by);
      });
    const changes = [...direct, ...further];
    for (const one of [...anew, ...changes]) now.set(one.name, one);
    for (const { name } of anew) own.add(name);
    const isHoisted = makes.some(({ kind }) => kind === "import" || kind === "function");
    return { index, isHoisted, names: [...used.reads], reads, makes: anew, changes };
  });
}

function madeAnew(making: Making, now: Table, by: Walker): Made {
  const { name, kind, declaration, holds } = making;
  const { execution, cell, run } = by;
  const before = now.get(name);
  const fixed = fixedText(making, by);
  const same = fixed !== null && before?.fixed === fixed && before.removedBy === null;
  const version = same ? before.version : by.nextVersion();
  const reads = readsOf(name, reached(making.from, now), { now, by });
  const alias = making.alias === null ? undefined : now.get(making.alias);
  const later = alias?.later ?? making.later;
  const made = { name, kind, version, execution, cell, run, reads, later, fixed, declaration };
  return { ...made, base: version, holds, isObject: false, changers: [], removedBy: null };
}

function fixedText({ kind, fixed }: Making, { stampOf }: Walker): string | null {
  if (kind !== "import" || fixed === null || !fixed.startsWith(".")) return fixed;
  return `${fixed} ${stampOf(fixed.split(" ")[0] ?? "")}`;
}

function changedBy(making: Making, now: Table, by: Walker): Made {
  const { name, sets } = making;
  const before = now.get(name);
  if (before === undefined) return madeAnew(making, now, by);
  const parts = sets === null || uses(reached(sets.from, now), name) ? null : new Set([sets.part]);
  const reads = readsOf(name, reached(making.from, now), { now, by });
  return changed(before, { reads, parts, isSeen: true }, by);
}

function uses({ reads, writes, changes }: Reached, name: string): boolean {
  return reads.has(name) || writes.has(name) || changes.has(name);
}

export interface Change {
  readonly reads: ReadonlyMap<string, Read>;
  readonly parts: Changer["parts"];
  readonly isSeen: boolean;
}

/** In the place of an execution: whoever has the notebook open chose another value. */
export const byHand = 0;

/** A change by another cell than the one that made the value makes another value of it. */
export function changed(before: Made, { reads, parts, isSeen }: Change, by: Versioned): Made {
  const all = { ...before, reads: new Map([...before.reads, ...reads]), fixed: null };
  if (before.run === by.run) return all;
  const { execution, cell, run } = by;
  const last = lastChange(before);
  const [earlier, joined] =
    last?.run === run
      ? [before.changers.slice(0, -1), both(last.parts, parts)]
      : [before.changers, parts];
  const changer = { execution, cell, run, parts: joined, isSeen, supersededBy: null };
  return { ...all, version: by.nextVersion(), changers: [...earlier, changer] };
}

function both(one: Changer["parts"], other: Changer["parts"]): Changer["parts"] {
  return one === null || other === null ? null : new Set([...one, ...other]);
}

// State that a statement takes and changes (a generator's seed) counts only where it is in doubt.
function readsOf(
  name: string,
  { reads, writes }: Reached,
  { now, by }: { readonly now: Table; readonly by: Walker },
): Map<string, Read> {
  const found = new Map<string, Read>();
  for (const read of reads) {
    const one = now.get(read);
    if (one === undefined || read === name) continue;
    found.set(read, readBy(one, by, writes.has(read)));
  }
  return found;
}

/** The name as this execution read it. */
export function readBy(made: Made, by: Execution, isState = false): Read {
  const { name, version, base, cell, run } = made;
  const { execution } = lastChange(made) ?? made;
  const reader = { execution: by.execution, run: by.run };
  const isDoubtful = made.changers.some(({ supersededBy }) => supersededBy !== null);
  const isOwnChange = made.changers.some((one) => isEarlierRun(one, by));
  const doubts = { isState, isDoubtful, isOwnChange };
  return { name, version, base, execution, cell, run, by: reader, ...doubts };
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
