import { loadTypeScript } from "../types/typescript.js";

/**
 * The cell with the words `export` and `export default` blanked out, so that code copied from a
 * module runs in a cell; every position stays where it was.
 */
export function withoutExports(source: string): string {
  if (!source.includes("export")) return source;
  const ts = loadTypeScript();
  const file = ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022);
  const words = [ts.SyntaxKind.ExportKeyword, ts.SyntaxKind.DefaultKeyword];
  let text = source;
  const blank = (from: number, to: number) => {
    text = text.slice(0, from) + " ".repeat(to - from) + text.slice(to);
  };
  for (const statement of file.statements) {
    if (ts.isExportAssignment(statement) && statement.isExportEquals !== true) {
      blank(statement.getStart(file), statement.expression.getStart(file));
    }
    if (!ts.canHaveModifiers(statement)) continue;
    for (const modifier of ts.getModifiers(statement) ?? []) {
      if (words.includes(modifier.kind)) blank(modifier.getStart(file), modifier.end);
    }
  }
  return text;
}
