import { type DisplayOutput, displayOutput } from "../show/outputs.js";
import { byHand, lastChange, type Made, type Read, type Table } from "./lineage-table.js";

/** Sentences shown at the most; the rest are counted. */
const shownSentences = 5;
/** Cells on the way from a name to what has been remade that are named one by one. */
const shownLinks = 4;

/**
 * A sentence for each of these names whose value was made from something that has been made anew or
 * removed since, and for each that its own cell no longer makes.
 */
export function staleSentences(table: Table, names: Iterable<string>): string[] {
  const sentences = new Set<string>();
  const current = new Set<string>();
  for (const name of names) {
    const seen = new Set(current);
    const sentence = staleSentence(table, name, seen);
    if (sentence !== null) sentences.add(sentence);
    else for (const one of seen) current.add(one);
  }
  return [...sentences];
}

// `seen`: names that are up to date, and all that they were made from.
function staleSentence(table: Table, name: string, seen: Set<string>): string | null {
  const made = table.get(name);
  if (made === undefined) return null;
  if (made.removedBy !== null) {
    return `\`${name}\` was made by cell [${made.execution}], which no longer makes it since [${made.removedBy}]: it keeps its old value.`;
  }
  const path = seen.has(name) ? null : stalePath(table, made, seen);
  return path === null ? null : sentenceOf(path);
}

/** A name, and the execution that made it, or changed it, from the next one. */
interface Link {
  readonly name: string;
  readonly verb: "made" | "changed";
  readonly execution: number;
  readonly run: number;
}

interface StalePath {
  /** From the name that is used down to the one that is out of date by itself; none for that one. */
  readonly links: readonly Link[];
  /** The last name of the way, and the execution whose value of it was read. */
  readonly name: string;
  readonly was: number;
  /** What became of that name. */
  readonly fate: string;
  /** Executions to be run again before those of the links. */
  readonly first: readonly number[];
}

function stalePath(table: Table, made: Made, seen: Set<string>): StalePath | null {
  seen.add(made.name);
  const added = addedUp(made);
  if (added !== null) return { links: [], name: made.name, was: made.execution, ...added };
  for (const read of made.reads.values()) {
    const now = table.get(read.name);
    const fate = now === undefined ? null : fateOf(made, read, now);
    if (fate === null) continue;
    return { links: [linkOf(made, read)], name: read.name, was: read.execution, fate, first: [] };
  }
  for (const read of made.reads.values()) {
    const next = table.get(read.name);
    if (next === undefined || seen.has(read.name) || read.isState) continue;
    const path = stalePath(table, next, seen);
    if (path === null) continue;
    const was = path.links.length === 0 ? read.execution : path.was;
    return { ...path, was, links: [linkOf(made, read), ...path.links] };
  }
  return null;
}

// What became of a name since it was read; null where the value stands.
function fateOf(made: Made, read: Read, now: Made): string | null {
  if (read.isState) return stateFate(read, now);
  if (read.isDoubtful && now.base === read.base && addedUp(now) === null) return heldTwice;
  const last = lastChange(now);
  if ((last ?? now).run === read.by.run) return null;
  if (now.removedBy !== null) return `is no longer made by its cell since [${now.removedBy}]`;
  if (now.version === read.version) return null;
  if (last !== null && now.base === read.base && isHeld(made, now)) return null;
  return last === null
    ? `has been remade by [${now.execution}]`
    : `has been changed by ${last.execution === byHand ? "hand" : `[${last.execution}]`}`;
}

// A change of a part is one of the whole that holds it, too, and makes nothing out of date.
function isHeld(made: Made, now: Made): boolean {
  if (now.isObject && made.holds.has(now.name)) return true;
  const [whole, part] = [lastChange(made), lastChange(now)];
  return whole?.run === part?.run && whole?.isSeen === false && part?.isSeen === false;
}

const heldTwice = "held then what two runs of one cell had done to it";

// A generator's state may go on; it counts where its own cell began it anew, or where it was wrong.
function stateFate(read: Read, now: Made): string | null {
  if (read.isDoubtful) return heldTwice;
  const isBegunAnew = now.cell !== null && now.cell === read.cell && now.base !== read.base;
  return isBegunAnew && now.run !== read.by.run ? `has been remade by [${now.execution}]` : null;
}

/** What earlier runs of a cell left in a value beside its last one; null for nothing. */
export function addedUp(made: Made): Pick<StalePath, "fate" | "first"> | null {
  const [old] = made.changers.filter(({ supersededBy }) => supersededBy !== null);
  if (old === undefined) return null;
  const standing = made.changers.filter(({ supersededBy }) => supersededBy === null);
  const isAgain = standing.some(({ execution }) => execution === old.supersededBy);
  const fate = isAgain
    ? `was changed by [${old.execution}] and again by [${old.supersededBy}], runs of one cell`
    : `was changed by [${old.execution}], an earlier run of a cell that has gone or does so no more`;
  return { fate, first: [made.execution, ...standing.map(({ execution }) => execution)] };
}

function linkOf({ name, run }: Made, { by }: Read): Link {
  return { name, verb: by.run === run ? "made" : "changed", ...by };
}

function sentenceOf({ links: all, name, was, fate, first }: StalePath): string {
  // Names on the way within one cell say nothing: that cell runs again whole.
  const links = all.filter(({ run }, at) => at === 0 || all[at - 1]?.run !== run);
  const [used, ...others] = links;
  const executions = links.map(({ execution }) => execution).reverse();
  const again =
    others.length > shownLinks
      ? "those cells"
      : [...new Set([...first, ...executions])].map((one) => `[${one}]`).join(", then ");
  const end = `\`${name}\` ${fate}: run ${again} again.`;
  if (used === undefined) return end;
  const way =
    others.length > shownLinks
      ? ` by way of ${others.length} others`
      : others.map((one) => ` from \`${one.name}\`, ${one.verb} by [${one.execution}]`).join("");
  return `\`${used.name}\` was ${used.verb} by cell [${used.execution}]${way} from \`${name}\` as ${was === byHand ? "chosen by hand" : `of [${was}]`}; ${end}`;
}

/** The sentences as an output that a cell begins with; null without any. */
export function noticeOutput(sentences: readonly string[]): DisplayOutput | null {
  if (sentences.length === 0) return null;
  const more = sentences.length - shownSentences;
  const lines = [
    ...sentences.slice(0, shownSentences),
    ...(more > 0 ? [`and ${more} more names`] : []),
  ];
  const notice = displayOutput({
    "text/plain": lines.join("\n"),
    "text/html": lines.map((line) => `<p><em>${htmlOf(line)}</em></p>`).join("\n"),
  });
  return { ...notice, metadata: { banquette: { notice: "lineage" } } };
}

function htmlOf(line: string): string {
  return line
    .replace(/[&<>]/g, (one) => `&#${one.charCodeAt(0)};`)
    .replace(/`([^`]+)`/g, "<code>$1</code>");
}
