import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Findings } from "../chain/findings.js";
import type { Work } from "../chain/work.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
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

/**
 * Writes findings.json, accounting.csv and provenance.json (inputs, decisions, seeds). The same work
 * gives the same bytes: numbers as JSON writes them, two-space indent, no time and no machine.
 *
 * @param findings - what `gatherFindings` returned.
 * @param work - the results behind it: readings for the account, inputs and decisions.
 * @param options - the folder.
 * @returns the files with their sizes in bytes.
 * @throws the file system's own error where the folder cannot be written.
 */
export async function handOver(
  findings: Given<Findings>,
  work: Work,
  options: HandOverOptions,
): Promise<StepResult<HandedOver>> {
  const contents: readonly (readonly [string, string])[] = [
    ["findings.json", `${JSON.stringify(resultValue(findings), null, 2)}\n`],
    ["accounting.csv", accountingCsv(work.masked.map((result) => result.value))],
    ["provenance.json", `${JSON.stringify(provenanceOf(work), null, 2)}\n`],
  ];
  await mkdir(options.folder, { recursive: true });
  for (const [name, text] of contents) await writeFile(join(options.folder, name), text);
  const files = contents.map(([name, text]) => ({ name, bytes: Buffer.byteLength(text) }));
  return new StepResult({
    step: "handOver",
    summary: `Written: ${files.map((file) => file.name).join(", ")}.`,
    value: { files },
    used: {},
    basis: [],
    cautions: [],
    accounting: null,
    figures: [],
    tables: [
      {
        id: "handed-over",
        caption: "Files beside this appendix",
        columns: [
          { field: "name", label: "File" },
          { field: "bytes", label: "Size (bytes)", digits: 0 },
        ],
        rows: files,
      },
    ],
  });
}
