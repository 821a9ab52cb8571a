import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { checkDecisions } from "../chain/decisions/check-decisions.js";
import type { Findings } from "../chain/findings.js";
import { standardLinks } from "../chain/standard-links.js";
import { readingsOf, type Work } from "../chain/work.js";
import { defineStep, runLongStep } from "../step/define-step.js";
import { textOption } from "../step/options/kinds.js";
import { type Given, resultValue, type StepResult } from "../step/step-result.js";
import { accountingCsv } from "./accounting-csv.js";
import { provenanceOf } from "./provenance.js";

export interface HandOverOptions {
  /** The folder to write into; made where it is missing. */
  readonly folder: string;
}

/** One file written, with its size. */
export interface HandedOver {
  readonly files: readonly { readonly name: string; readonly bytes: number }[];
}

interface HandingOver {
  readonly findings: Findings;
  readonly work: Work;
}

const handOverStep = defineStep({
  name: "handOver",
  options: {
    folder: textOption({
      default: ".",
      meaning: "The folder to write into; made where it is missing.",
      role: "callback",
    }),
  },
  faults: ({ work }: HandingOver) => checkDecisions(standardLinks, work).faults,
  run: written,
  report: (value) => ({
    value,
    summary: `Written: ${value.files.map(({ name }) => name).join(", ")}.`,
    tables: [filesTable(value)],
  }),
});

/**
 * Writes findings.json, accounting.csv and provenance.json (inputs, decisions, seeds). The same
 * work gives the same bytes: numbers as JSON writes them, two-space indent, no time and no machine.
 *
 * @param findings - what `gatherFindings` returned.
 * @param work - the results behind it: readings for the account, inputs and decisions.
 * @param options - the folder.
 * @returns the files with their sizes in bytes.
 * @throws StepError where a decision is false on the record: its step used another value, or has no
 *   such option; nothing is written then. The file system's own error where the folder cannot be
 *   written.
 */
export async function handOver(
  findings: Given<Findings>,
  work: Work,
  options: HandOverOptions,
): Promise<StepResult<HandedOver>> {
  return runLongStep(handOverStep, { findings: resultValue(findings), work }, options);
}

async function written(
  { findings, work }: HandingOver,
  { folder }: HandOverOptions,
): Promise<HandedOver> {
  const contents = [
    ["findings.json", `${JSON.stringify(findings, null, 2)}\n`],
    ["accounting.csv", accountingCsv(readingsOf(work))],
    ["provenance.json", `${JSON.stringify(provenanceOf(work), null, 2)}\n`],
  ] as const;
  await mkdir(folder, { recursive: true });
  for (const [name, text] of contents) await writeFile(join(folder, name), text);
  return { files: contents.map(([name, text]) => ({ name, bytes: Buffer.byteLength(text) })) };
}

function filesTable({ files }: HandedOver) {
  return {
    id: "handed-over",
    caption: "Files beside this appendix",
    columns: [
      { field: "name", label: "File" },
      { field: "bytes", label: "Size (bytes)", digits: 0 },
    ],
    rows: files.map((file) => ({ ...file })),
  };
}
