import type TypeScript from "typescript";
import { compilerText } from "../cell/cell-text.js";
import { namesOf } from "../lineage/lineage-scopes.js";
import { loadTypeScript, type Ts } from "./typescript.js";

/** A name that a cell declares at its top level. */
export interface Declared {
  readonly name: string;
  readonly isType: boolean;
  readonly isValue: boolean;
  /** The declaration as it is written, where the same text means the same type; else null. */
  readonly text: string | null;
}

/** The names that a cell declares, by its syntax. */
export function declaredIn(source: string): Declared[] {
  const ts = loadTypeScript();
  const file = ts.createSourceFile("cell.ts", compilerText(source), ts.ScriptTarget.ES2022);
  return file.statements.flatMap((statement) => declaredBy(ts, statement, file));
}

function declaredBy(
  ts: Ts,
  statement: TypeScript.Statement,
  file: TypeScript.SourceFile,
): Declared[] {
  if (ts.isVariableStatement(statement)) {
    const names = new Set<string>();
    for (const { name } of statement.declarationList.declarations) namesOf(ts, name, names);
    return [...names].map((name) => ({ name, isType: false, isValue: true, text: null }));
  }
  if (ts.isImportDeclaration(statement)) {
    const text = statement.moduleSpecifier.getText(file);
    return importedNames(ts, statement).map((name) => ({
      name,
      isType: true,
      isValue: true,
      text,
    }));
  }
  const { name } = statement as { readonly name?: TypeScript.Node };
  if (name === undefined || !ts.isIdentifier(name)) return [];
  const isType = !ts.isFunctionDeclaration(statement);
  const isValue = !ts.isInterfaceDeclaration(statement) && !ts.isTypeAliasDeclaration(statement);
  const text = isType ? statement.getText(file) : null;
  return [{ name: name.text, isType, isValue, text }];
}

function importedNames(ts: Ts, { importClause: clause }: TypeScript.ImportDeclaration): string[] {
  const bindings = clause?.namedBindings;
  const own = clause?.name === undefined ? [] : [clause.name.text];
  if (bindings === undefined) return own;
  if (ts.isNamespaceImport(bindings)) return [...own, bindings.name.text];
  return [...own, ...bindings.elements.map(({ name }) => name.text)];
}
