import { createHash } from "node:crypto";
import { comparePage } from "./compare-page.js";
import { textDifference } from "./compare-texts.js";
import { valueDifferences } from "./compare-values.js";
import type { FigureDifference, FileDifference, ValueDifference } from "./review.js";

/** Files of an appendix by name. */
export type AppendixFiles = ReadonlyMap<string, Uint8Array>;

export interface FilesCompared {
  readonly numbers: ValueDifference[];
  readonly figures: FigureDifference[];
  readonly files: FileDifference[];
}

/** The notebook and its provenance are looked at part by part, not as files. */
const lookedAtByPart = ["appendix.ipynb", "provenance.json"];

/** Every file that the code gives, against the stored one of that name. */
export function compareFiles(
  stored: AppendixFiles,
  again: AppendixFiles,
  tolerance: number,
): FilesCompared {
  const into: FilesCompared = { numbers: [], figures: [], files: [] };
  for (const [name, is] of again) {
    const was = stored.get(name);
    if (was === undefined) into.files.push({ name, what: "missing", was: "", is: "written" });
    else if (!lookedAtByPart.includes(name) && !isSame(was, is)) {
      compareFile({ name, was, is }, { tolerance, into });
    }
  }
  return into;
}

interface FilePair {
  readonly name: string;
  readonly was: Uint8Array;
  readonly is: Uint8Array;
}

function compareFile(
  { name, was, is }: FilePair,
  { tolerance, into }: { readonly tolerance: number; readonly into: FilesCompared },
): void {
  const texts = [textOf(was), textOf(is)] as const;
  if (name.endsWith(".html")) {
    const page = comparePage(texts, { tolerance, file: name });
    into.figures.push(...page.figures);
    into.files.push(...page.files);
  } else if (/\.(?:geo)?json$/.test(name)) {
    into.numbers.push(...jsonDifferences(name, texts, tolerance));
  } else if (name.endsWith(".csv")) {
    into.numbers.push(...lineDifferences(name, texts, tolerance));
  } else {
    into.files.push({ name, what: "other bytes", was: bytesText(was), is: bytesText(is) });
  }
}

function bytesText(bytes: Uint8Array): string {
  const hash = createHash("sha256").update(bytes).digest("hex");
  return `${bytes.length} bytes, sha-256 ${hash.slice(0, 12)}…`;
}

function jsonDifferences(
  file: string,
  [was, is]: readonly [string, string],
  tolerance: number,
): ValueDifference[] {
  const other: unknown = JSON.parse(is);
  let stored: unknown;
  try {
    stored = JSON.parse(was);
  } catch {
    return [{ file, path: "", was: "no JSON", is: "JSON" }];
  }
  return valueDifferences(stored, other, tolerance).map((one) => ({ file, ...one }));
}

function lineDifferences(
  file: string,
  [was, is]: readonly [string, string],
  tolerance: number,
): ValueDifference[] {
  const [ones, others] = [was.split("\n"), is.split("\n")];
  if (ones.length !== others.length) {
    return [{ file, path: "", was: `${ones.length} lines`, is: `${others.length} lines` }];
  }
  return ones.flatMap((one, i) => {
    const found = textDifference(one, others[i] ?? "", tolerance);
    return found === null ? [] : [{ file, path: `line ${i + 1}`, ...found }];
  });
}

function isSame(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, i) => byte === other[i]);
}

function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
