import { loadTypeScript } from "./typescript.js";

/**
 * The cell with the word `export` before its declarations blanked out, so that code copied from a
 * module runs in a cell; every position stays where it was.
 */
export function withoutExports(source: string): string {
  if (!source.includes("export")) return source;
  const ts = loadTypeScript();
  const file = ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022);
  let text = source;
  for (const statement of file.statements) {
    if (!ts.canHaveModifiers(statement)) continue;
    const modifiers = ts.getModifiers(statement) ?? [];
    const word = modifiers.find((one) => one.kind === ts.SyntaxKind.ExportKeyword);
    if (word === undefined || modifiers.some((one) => one.kind === ts.SyntaxKind.DefaultKeyword)) {
      continue;
    }
    text = `${text.slice(0, word.end - 6)}      ${text.slice(word.end)}`;
  }
  return text;
}
