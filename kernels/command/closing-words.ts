import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { type Findings, headline } from "../../lib/index.js";

/**
 * What a finished appendix comes to, in the words of its own headline, and where it lies. A notebook
 * of one's own may hand over findings of another form: then only where it lies.
 */
export async function closingWords(folder: string, shown: string): Promise<string> {
  const findings: unknown = JSON.parse(await readFile(join(folder, "findings.json"), "utf8"));
  const files = (await readdir(folder)).toSorted();
  const brief = isUsual(findings)
    ? [headline(findings), `cautions to read: ${findings.cautions.length}`]
    : [];
  return [...brief, `Written to ${shown}: ${files.join(", ")}`].join("\n");
}

const LISTS = ["blocks", "changes", "seepage", "cautions"] as const;

/** Whether findings hold what the headline is made of. */
function isUsual(given: unknown): given is Findings {
  const findings = given as Partial<Findings> | null;
  const { survey } = findings ?? {};
  return (
    LISTS.every((name) => Array.isArray(findings?.[name])) &&
    Array.isArray(survey?.campaigns) &&
    Number.isFinite(survey.length_m) &&
    findings?.blocks?.every((one) => Array.isArray(one?.resistivity_ohm_m)) === true
  );
}
