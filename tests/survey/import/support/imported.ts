// Raw text in memory, imported as the command would.
import { createHash } from "node:crypto";
import type { RawFile } from "../../../../lib/survey/import/raw-file.js";
import { type ImportProposal, settleImport } from "../../../../lib/survey/import/settle-import.js";
import {
  type ImportedSurvey,
  importSurvey,
} from "../../../../lib/survey/import/write/import-survey.js";

export function rawFile(name: string, content: string | Buffer): RawFile {
  const bytes = typeof content === "string" ? Buffer.from(content) : content;
  return { name, bytes, sha256: createHash("sha256").update(bytes).digest("hex") };
}

export function proposed(
  files: readonly RawFile[],
  answers: Readonly<Record<string, string>> = {},
): ImportProposal {
  const target = { name: "bank", earlier: new Map(), isThere: false };
  return settleImport(files, new Map(Object.entries(answers)), target);
}

/** The keys of what must be answered. */
export function openKeys({ questions }: ImportProposal): readonly string[] {
  return questions.filter(({ isOptional }) => !isOptional).map(({ key }) => key);
}

/** Imports files that leave nothing open; throws with what is. */
export function imported(
  files: readonly RawFile[],
  answers: Readonly<Record<string, string>> = {},
): ImportedSurvey {
  const proposal = proposed(files, answers);
  const left = [...proposal.faults, ...openKeys(proposal)];
  if (left.length > 0) throw new Error(left.join("; "));
  return importSurvey(proposal.plan, { name: "bank", campaigns: [], names: new Set() });
}

/** The rows of a table as it is written, the header first. */
export function rowsOf({ tables }: ImportedSurvey, table = 0): readonly string[] {
  return [...(tables[table]?.pieces() ?? [])].join("").trimEnd().split("\n");
}

/** `08:mm:ss` after a number of seconds. */
export function clockAt(seconds: number): string {
  return new Date(Date.UTC(2031, 9, 14, 8, 0, seconds)).toISOString().slice(11, 19);
}

/** A text of a header and rows. */
export function table(header: string, count: number, row: (i: number) => string): string {
  return `${[header, ...Array.from({ length: count }, (_, i) => row(i))].join("\n")}\n`;
}
