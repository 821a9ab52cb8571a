import { type DisplayOutput, displayOutput } from "../show/outputs.js";
import type { Made, Read, Table } from "./lineage-table.js";

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
  /** From the name that is used down to the one that is out of date by itself. */
  readonly links: readonly Link[];
  /** What that one was made from, as it stood then and as it stands. */
  readonly was: number;
  readonly now: Made;
}

function stalePath(table: Table, made: Made, seen: Set<string>): StalePath | null {
  seen.add(made.name);
  for (const read of made.reads.values()) {
    const now = table.get(read.name);
    if (now === undefined || (now.changed ?? now).run === read.by.run) continue;
    if (now.version !== read.version || now.removedBy !== null) {
      return { links: [linkOf(made, read)], was: read.execution, now };
    }
  }
  for (const read of made.reads.values()) {
    const next = table.get(read.name);
    if (next === undefined || seen.has(read.name)) continue;
    const path = stalePath(table, next, seen);
    if (path !== null) return { ...path, links: [linkOf(made, read), ...path.links] };
  }
  return null;
}

function linkOf({ name, run }: Made, { by }: Read): Link {
  return { name, verb: by.run === run ? "made" : "changed", ...by };
}

function sentenceOf({ links: all, was, now }: StalePath): string {
  // Names on the way within one cell say nothing: that cell runs again whole.
  const links = all.filter(({ run }, at) => at === 0 || all[at - 1]?.run !== run);
  const [first, ...others] = links;
  const way =
    others.length > shownLinks
      ? ` by way of ${others.length} others`
      : others
          .map(({ name, verb, execution }) => ` from \`${name}\`, ${verb} by [${execution}]`)
          .join("");
  const since =
    now.removedBy === null
      ? now.changed === null
        ? `has been remade by [${now.execution}]`
        : `has been changed by [${now.changed.execution}]`
      : `is no longer made by its cell since [${now.removedBy}]`;
  const executions = [...new Set(links.map(({ execution }) => `[${execution}]`))].reverse();
  const again = others.length > shownLinks ? "those cells" : executions.join(", then ");
  return `\`${first?.name}\` was ${first?.verb} by cell [${first?.execution}]${way} from \`${now.name}\` as of [${was}]; \`${now.name}\` ${since}: run ${again} again.`;
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
