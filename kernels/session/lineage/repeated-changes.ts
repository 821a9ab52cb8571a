import {
  type Changer,
  type Execution,
  isEarlierRun,
  type Made,
  type Read,
  type Table,
} from "./lineage-table.js";

/** What is known of a cell's run beside what it changed. */
export interface Repeated {
  /** True where a run had the same text and the same values of all that it did not change itself. */
  readonly isSameRun: (run: number) => boolean;
  /** Names whose whole value the run left as it was. */
  readonly unchanged: ReadonlySet<string>;
}

/**
 * The value after a cell ran again whose earlier run had changed it: the earlier change stands out as
 * superseded, unless the later one sets the same parts anew or does nothing more to the value.
 */
export function afterRerun(made: Made, by: Execution, repeated: Repeated): Made {
  const isEarlier = (one: Changer) => isEarlierRun(one, by);
  if (!made.changers.some(isEarlier)) return made;
  const now = made.changers.find(({ run }) => run === by.run);
  const isIdle = repeated.unchanged.has(made.name);
  const changers = made.changers.flatMap((one): Changer[] => {
    if (!isEarlier(one)) return [one];
    const isAnew = now !== undefined && covers(now, one);
    if (isAnew || (now !== undefined && isIdle && repeated.isSameRun(one.run))) return [];
    return [{ ...one, supersededBy: one.supersededBy ?? by.execution }];
  });
  return { ...made, changers };
}

function covers({ parts: now }: Changer, { parts: before, supersededBy }: Changer): boolean {
  if (now === null || before === null || supersededBy !== null) return false;
  return [...before].every((part) => now.has(part));
}

/** The value after cells that changed it were deleted. */
export function afterDeletion(made: Made, cellIds: readonly string[], execution: number): Made {
  const isGone = ({ cell, supersededBy }: Changer) =>
    cell !== null && supersededBy === null && cellIds.includes(cell);
  if (!made.changers.some(isGone)) return made;
  const changers = made.changers.map((one) =>
    isGone(one) ? { ...one, supersededBy: execution } : one,
  );
  return { ...made, changers };
}

/**
 * A value that this run made or changed, with its doubts: about what holds changes of several runs of a
 * cell, and what the run read with its own earlier change in it, before it changed it again.
 */
export function withDoubts(made: Made, table: Table, run: number): Made {
  const isInDoubt = ({ name, by, isOwnChange, version }: Read) => {
    const now = table.get(name);
    if (by.run !== run || now === undefined) return false;
    const isBefore = isOwnChange && now.version !== version;
    return isBefore || now.changers.some(({ supersededBy }) => supersededBy !== null);
  };
  if (![...made.reads.values()].some(isInDoubt)) return made;
  const reads = [...made.reads].map(
    ([name, read]) => [name, isInDoubt(read) ? { ...read, isDoubtful: true } : read] as const,
  );
  return { ...made, reads: new Map(reads) };
}
