import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";

/** Of findings.json, what the closing words are made of. */
interface FindingsInBrief {
  readonly survey?: { readonly embankment?: string };
  readonly blocks: readonly { readonly class: string }[];
  readonly changes: readonly Stretch[];
  readonly seepage: readonly (Stretch & { readonly band: string })[];
  readonly cautions: readonly unknown[];
}

interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

/**
 * What a finished appendix comes to and where it lies: a line each for make, change and seepage. A
 * notebook of one's own may hand over findings of another form: then only where it lies.
 */
export async function closingWords(folder: string, shown: string): Promise<string> {
  const findings = JSON.parse(await readFile(join(folder, "findings.json"), "utf8"));
  const files = (await readdir(folder)).toSorted();
  const isUsual = ["blocks", "changes", "seepage", "cautions"].every((name) =>
    Array.isArray(findings?.[name]),
  );
  return [...(isUsual ? inBrief(findings) : []), `Written to ${shown}: ${files.join(", ")}`].join(
    "\n",
  );
}

function inBrief(findings: FindingsInBrief): readonly string[] {
  const { blocks, changes, seepage, cautions } = findings;
  const classes = new Set(blocks.map((block) => block.class)).size;
  const [first] = seepage;
  const zone = first === undefined ? "no zone" : `first ${where(first)}, ${first.band}`;
  return [
    `${findings.survey?.embankment ?? "the bank"}: ${counted(blocks.length, "block")} of ${counted(classes, "kind")} of ground`,
    `changed between campaigns: ${changes.map(where).join(", ") || "no stretch"}`,
    `evidence for seepage: ${zone}; ${cautions.length} cautions to read`,
  ];
}

const counted = (count: number, noun: string) => `${count} ${noun}${count === 1 ? "" : "s"}`;

const where = ({ from_m, to_m }: Stretch) => `${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;
