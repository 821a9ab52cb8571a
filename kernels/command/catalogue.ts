import { join } from "node:path";
import { type Cell, type CodeCell, hasTag, type Notebook } from "../notebook/notebook.js";
import { readNotebook } from "../notebook/read-notebook.js";
import { UsageFault } from "./failure.js";
import { packageFolder } from "./package.js";

/**
 * The notebooks of the catalogue: the steps in the order of the work, then those before the field.
 */
export const catalogueNames = [
  "survey",
  "drift",
  "interference",
  "depth",
  "blocks",
  "campaigns",
  "lines",
  "sections",
  "seepage",
  "boreholes",
  "findings",
  "coil-response",
  "spread-response",
] as const;

export type CatalogueName = (typeof catalogueNames)[number];

/**
 * What a start notebook holds where no steps are named: the whole way from readings to findings.
 */
export const defaultSteps: readonly CatalogueName[] = catalogueNames.slice(0, 11);

export const catalogueFolder = join(packageFolder, "notebooks", "cells");

/** One notebook of the catalogue; it runs alone, and its cells tagged "step" go into others. */
export interface CatalogueEntry {
  readonly name: CatalogueName;
  /** What it is for, in a clause. */
  readonly about: string;
  /** Steps whose results its cells use. */
  readonly after: readonly CatalogueName[];
  readonly notebook: Notebook;
}

export async function readCatalogue(): Promise<readonly CatalogueEntry[]> {
  return Promise.all(
    catalogueNames.map(async (name) => {
      const notebook = await readNotebook(join(catalogueFolder, `${name}.ipynb`));
      const { about, after } = notebook.metadata.banquette as CatalogueEntry;
      return { name, about, after, notebook };
    }),
  );
}

/** The entries named and those that they work on, in the order of the catalogue. */
export function withNeeded(
  catalogue: readonly CatalogueEntry[],
  names: readonly string[],
): readonly CatalogueEntry[] {
  const unknown = names.filter((name) => !catalogueNames.some((known) => known === name));
  if (unknown.length > 0) {
    throw new UsageFault(
      unknown
        .map((name) => `--steps: must be of ${catalogueNames.join(", ")}, got "${name}"`)
        .join("\n"),
    );
  }
  const needed = new Set<string>(names);
  for (const entry of catalogue) {
    if (names.includes(entry.name)) for (const name of entry.after) needed.add(name);
  }
  return catalogue.filter(({ name }) => needed.has(name));
}

/** A notebook from the cells of the entries, with one cell of parameters and one of imports. */
export function assembled(entries: readonly CatalogueEntry[], title: string): Notebook {
  const tagged = (tag: string) =>
    entries.flatMap(({ notebook }) => notebook.cells.filter((cell) => hasTag(cell, tag)));
  const cells: readonly Cell[] = [
    { cell_type: "markdown", id: "title", metadata: {}, source: title },
    codeCell("parameters", mergedParameters(tagged("parameters"))),
    codeCell("imports", mergedImports(tagged("imports"))),
    ...tagged("step"),
  ];
  const { kernelspec, language_info } = entries[0]?.notebook.metadata ?? {};
  return { nbformat: 4, nbformat_minor: 5, metadata: { kernelspec, language_info }, cells };
}

function codeCell(tag: string, source: string): CodeCell {
  const metadata = { tags: [tag] };
  return { cell_type: "code", id: tag, metadata, source, execution_count: null, outputs: [] };
}

// A name that several entries declare keeps its first line. The notebook stands in the survey.
function mergedParameters(cells: readonly Cell[]): string {
  const seen = new Set<string>(["surveyFolder"]);
  const lines = cells.flatMap(({ source }) => source.split("\n"));
  const others = lines.filter((line) => {
    const name = /^let (\w+) =/.exec(line)?.[1];
    const first = name !== undefined && !seen.has(name);
    if (name !== undefined) seen.add(name);
    return first;
  });
  const folder = ["// The survey folder to work on: the one in which this notebook stands."];
  const reads = lines.some((line) => line.startsWith("let surveyFolder ="));
  return [...(reads ? [...folder, 'let surveyFolder = ".";'] : []), ...others].join("\n");
}

const lineLength = 96;

function mergedImports(cells: readonly Cell[]): string {
  const names = cells.flatMap(({ source }) => {
    const [, list = ""] = /import \{([^}]*)\} from "banquette"/.exec(source) ?? [];
    return list.split(",").map((name) => name.trim());
  });
  const sorted = [...new Set(names)].filter((name) => name !== "").sort();
  const lines: string[] = [];
  for (const name of sorted) {
    const last = lines.at(-1);
    const longer = `${last} ${name},`;
    if (last === undefined || longer.length > lineLength) lines.push(`  ${name},`);
    else lines[lines.length - 1] = longer;
  }
  return `import {\n${lines.join("\n")}\n} from "banquette";`;
}
