import { earlierNamed } from "../cell/marked-names.js";
import type { Captor } from "../lineage/lineage-data.js";
import { type DisplayOutput, displayOutput } from "../show/outputs.js";
import { declaredIn } from "./declared-anew.js";
import { declarationTexts, withDeclaration } from "./earlier-types.js";
import type { TypeFault } from "./faults.js";
import type { TypeServices } from "./type-services.js";

/** What a cell's new types do to the functions of cells before. */
export interface Recaptured {
  /** Declarations of all names, those of functions as the names that they use now make them. */
  readonly declarations: string;
  /** A sentence for each function that no longer passes the check. */
  readonly sentences: readonly string[];
}

export interface ChangedCell {
  readonly source: string;
  readonly execution: number;
  /** Declarations before the cell and after it. */
  readonly before: string;
  readonly after: string;
  readonly capturing: (names: ReadonlySet<string>) => readonly Captor[];
}

/**
 * Checks again the functions that use a name which the cell declares anew with another type, and those
 * that use such functions. One that passes takes the type that it has now.
 */
export function recheckCaptors(types: TypeServices, cell: ChangedCell): Recaptured {
  const seen = new Set(declaredIn(cell.source).map(({ name }) => name));
  const known = [...seen].filter((name) => cell.before.includes(name));
  if (known.length === 0) return { declarations: cell.after, sentences: [] };
  const was = declarationTexts(cell.before);
  let declarations = cell.after;
  let is = declarationTexts(declarations);
  const open = known.filter((name) => differ(was.get(name), is.get(name)));
  const sentences: string[] = [];
  while (open.length > 0) {
    const changed = new Set(open.splice(0));
    for (const captor of cell.capturing(changed)) {
      if (seen.has(captor.name)) continue;
      seen.add(captor.name);
      const now = checkedAgain(types, { ...cell, after: declarations }, captor);
      if (typeof now !== "string") sentences.push(sentenceOf(captor, changed, now));
      else if (now !== "" && differ(is.get(captor.name), now)) {
        declarations = withDeclaration(declarations, captor.name, now);
        is = declarationTexts(declarations);
        open.push(captor.name);
      }
    }
  }
  return { declarations, sentences };
}

// The declaration that a function has now; or the fault that it has now and had not before.
function checkedAgain(
  types: TypeServices,
  { before, after, execution }: ChangedCell,
  { name, declaration }: Captor,
): string | TypeFault {
  const again = { source: declaration, execution };
  const { faults, declarations } = types.check(after, again);
  if (faults.length === 0) return declarationTexts(declarations).get(name) ?? "";
  const known = types.check(before, again).faults.map(placeOf);
  return faults.find((one) => !known.includes(placeOf(one))) ?? "";
}

function placeOf({ line, column, code }: TypeFault): string {
  return `${line}:${column} ${code}`;
}

// Another value of a constant is no other type.
function differ(was: string | undefined, is: string | undefined): boolean {
  return was !== undefined && is !== undefined && widened(was) !== widened(is);
}

function widened(text: string): string {
  return text
    .replace(/ = -?[\d.e+-]+$/, ": number")
    .replace(/ = "(?:[^"\\]|\\.)*"$/, ": string")
    .replace(/ = (true|false)$/, ": boolean");
}

function sentenceOf(captor: Captor, changed: ReadonlySet<string>, fault: TypeFault): string {
  const used = [...changed].filter((name) => new RegExp(`\\b${name}\\b`).test(captor.declaration));
  const names = used.map((name) => `\`${name}\``).join(", ");
  return (
    `\`${captor.name}\` of cell [${captor.execution}] no longer fits ${names}, of another type from this ` +
    `cell on: ${earlierNamed(fault.text)} (TS${fault.code})`
  );
}

/** The sentences as an output that a cell begins with; null without any. */
export function captorsNotice(sentences: readonly string[]): DisplayOutput | null {
  if (sentences.length === 0) return null;
  const bundle = { "text/plain": sentences.join("\n") };
  return { ...displayOutput(bundle), metadata: { banquette: { notice: "types" } } };
}
