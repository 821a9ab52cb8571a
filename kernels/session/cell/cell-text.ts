import { withoutExports } from "./export-modifiers.js";
import { readOptionLines } from "./option-lines.js";

/** A cell as the compiler gets it: every position of the cell's own text stays where it was. */
export function compilerText(source: string): string {
  return withoutExports(withoutAttributes(withoutOptionLines(source)));
}

const attributes = /^(\s*import\b[^;\n]*["'])(\s+(?:with|assert)\s*\{[^{}\n]*\})/gm;

// `with { type: "json" }` says nothing here: the loader tells JSON by its name.
function withoutAttributes(source: string): string {
  if (!source.includes("import")) return source;
  return source.replace(
    attributes,
    (_, before: string, clause: string) => before + " ".repeat(clause.length),
  );
}

function withoutOptionLines(source: string): string {
  const { code } = readOptionLines(source);
  if (code === source) return source;
  const kept = code.split("\n");
  const lines = source.split("\n");
  return lines.map((line, at) => (kept[at] === line ? line : " ".repeat(line.length))).join("\n");
}

const directive = /^\s*\/\/\s*(unchecked|@ts-nocheck|no-notices)\b/;

/** What the comment lines at the top of a cell ask for. */
export interface Directives {
  /** `// unchecked` or `// @ts-nocheck`: run in spite of type errors. */
  readonly unchecked: boolean;
  /** `// no-notices`: say nothing of names made from what has been remade. */
  readonly quiet: boolean;
}

/** Reads the comment lines (blank lines between them) that a cell begins with. */
export function directivesOf(source: string): Directives {
  const found = new Set<string>();
  for (const line of readOptionLines(source).code.split("\n")) {
    if (line.trim() === "") continue;
    if (!line.trimStart().startsWith("//")) break;
    const [, word] = directive.exec(line) ?? [];
    if (word !== undefined) found.add(word);
  }
  return {
    unchecked: found.has("unchecked") || found.has("@ts-nocheck"),
    quiet: found.has("no-notices"),
  };
}
