import type TypeScript from "typescript";
import { compilerText } from "../cell/cell-text.js";
import { loadTypeScript, type Ts } from "../types/typescript.js";
import { freeNames } from "./lineage-names.js";
import { heldNames, type SetPart, setPart } from "./lineage-parts.js";
import { emptyUse, type Use } from "./lineage-place.js";

/** One name that a statement makes or changes. */
export interface Making {
  readonly name: string;
  readonly kind: "import" | "function" | "class" | "value";
  /** True where the old value does not matter: a declaration, or `name = …` without `name` in it. */
  readonly replaces: boolean;
  /** What its value was made from. */
  readonly from: Use;
  /** What its functions use when they are called. */
  readonly later: Use;
  /** Set where running the same text again gives the same: an import, a function, a plain number. */
  readonly fixed: string | null;
  /** Set for a second name of the same value: `const g = f`. */
  readonly alias: string | null;
  /** Names that the value only holds, as `[a, b]` and `{ a }` do. */
  readonly holds: ReadonlySet<string>;
  /** The part that a change sets, as `.k` of `o.k = 7`; else null. */
  readonly sets: SetPart | null;
  /** The declaration by itself, where its value holds functions that use names when they are called. */
  readonly declaration: string | null;
}

/** What one top-level statement does with top-level names. */
export interface StatementScan {
  /** Place among the cell's statements, from 0. */
  readonly index: number;
  readonly uses: Use;
  readonly makes: readonly Making[];
}

/**
 * The statements of a cell in the order in which they take effect: imports and functions first.
 * Names of parameters, of local variables, of properties and of types are no uses.
 */
export function scanCell(source: string): StatementScan[] {
  const ts = loadTypeScript();
  const text = compilerText(source);
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.ES2022);
  const scans = file.statements.map((statement, index) => {
    const [uses, makes] = scanStatement({ ts, file }, statement);
    const set = setPart(ts, statement);
    return { index, uses, makes: [...makes, ...changes(uses, makes, set)] };
  });
  const isHoisted = ({ index }: StatementScan) => {
    const statement = file.statements[index] as TypeScript.Statement;
    return ts.isImportDeclaration(statement) || ts.isFunctionDeclaration(statement);
  };
  return [...scans.filter(isHoisted), ...scans.filter((scan) => !isHoisted(scan))];
}

interface Context {
  readonly ts: Ts;
  readonly file: TypeScript.SourceFile;
}

type Scanned = [uses: Use, makes: readonly Making[]];

function scanStatement(context: Context, statement: TypeScript.Statement): Scanned {
  const { ts } = context;
  if (ts.canHaveModifiers(statement) && isAmbient(ts, statement)) return [emptyUse(), []];
  if (ts.isImportDeclaration(statement)) return [emptyUse(), importMakings(context, statement)];
  if (ts.isFunctionDeclaration(statement)) return functionMaking(context, statement);
  if (ts.isClassDeclaration(statement)) return classMaking(context, statement);
  if (ts.isVariableStatement(statement)) return variableMakings(context, statement);
  if (ts.isEnumDeclaration(statement)) return named(context, statement, statement.name.text);
  if (ts.isModuleDeclaration(statement)) {
    return named(context, statement, ts.isIdentifier(statement.name) ? statement.name.text : "");
  }
  if (ts.isExpressionStatement(statement)) return expressionMakings(context, statement.expression);
  const { use, variables } = freeNames(ts, statement);
  return [use, [...variables].map((name) => making({ name, from: use, replaces: false }))];
}

function isAmbient(ts: Ts, statement: TypeScript.Statement & TypeScript.HasModifiers): boolean {
  return (ts.getModifiers(statement) ?? []).some(
    (modifier) => modifier.kind === ts.SyntaxKind.DeclareKeyword,
  );
}

function making(given: Partial<Making> & { readonly name: string }): Making {
  return {
    kind: "value",
    replaces: true,
    from: emptyUse(),
    later: emptyUse(),
    fixed: null,
    alias: null,
    holds: new Set(),
    sets: null,
    declaration: null,
    ...given,
  };
}

// What a statement writes beside what it makes: `total += x`, `rows[0] = 1`, a loop's assignments.
function changes(uses: Use, makes: readonly Making[], set: SetPart | null): Making[] {
  const made = new Set(makes.map(({ name }) => name));
  return [...new Set([...uses.writes, ...uses.changes])]
    .filter((name) => !made.has(name))
    .map((name) => {
      const sets = set?.name === name ? set : null;
      return making({ name, from: uses, replaces: false, sets });
    });
}

function importMakings(
  { ts }: Context,
  { importClause: clause, moduleSpecifier }: TypeScript.ImportDeclaration,
): Making[] {
  if (clause === undefined || clause.isTypeOnly) return [];
  const from = ts.isStringLiteral(moduleSpecifier) ? moduleSpecifier.text : "";
  const one = (name: string, imported: string) =>
    making({ name, kind: "import", fixed: `${from} ${imported}` });
  const { name, namedBindings: bindings } = clause;
  const own = name === undefined ? [] : [one(name.text, "default")];
  if (bindings === undefined) return own;
  if (ts.isNamespaceImport(bindings)) return [...own, one(bindings.name.text, "*")];
  const elements = bindings.elements.filter((element) => !element.isTypeOnly);
  return [
    ...own,
    ...elements.map((element) =>
      one(element.name.text, (element.propertyName ?? element.name).text),
    ),
  ];
}

function functionMaking(
  { ts, file }: Context,
  declaration: TypeScript.FunctionDeclaration,
): Scanned {
  if (declaration.name === undefined || declaration.body === undefined) return [emptyUse(), []];
  const name = declaration.name.text;
  const { later } = freeNames(ts, declaration, { defers: true });
  const text = declaration.getText(file);
  const fixed = codeOf({ ts, file }, declaration);
  const made = making({ name, kind: "function", later, fixed, declaration: text });
  return [emptyUse(), [made]];
}

function classMaking({ ts, file }: Context, declaration: TypeScript.ClassDeclaration): Scanned {
  const { use, later } = freeNames(ts, declaration, { defers: true });
  if (declaration.name === undefined) return [use, []];
  const text = declaration.getText(file);
  const fixed = isEmpty(use) ? codeOf({ ts, file }, declaration) : null;
  const name = declaration.name.text;
  const made = making({ name, kind: "class", from: use, later, fixed, declaration: text });
  return [use, [made]];
}

function named({ ts, file }: Context, node: TypeScript.Statement, name: string): Scanned {
  const { use } = freeNames(ts, node);
  const fixed = isEmpty(use) ? codeOf({ ts, file }, node) : null;
  return [use, name === "" ? [] : [making({ name, from: use, fixed })]];
}

function variableMakings(context: Context, statement: TypeScript.VariableStatement): Scanned {
  const { ts } = context;
  const all = emptyUse();
  const makes = statement.declarationList.declarations.flatMap((declaration) => {
    const { use, later, variables } = freeNames(ts, declaration, { defers: true });
    for (const kind of Object.keys(all) as (keyof Use)[]) {
      for (const name of use[kind]) all[kind].add(name);
    }
    const value = declaration.initializer;
    const defers = !isEmpty(later) && ts.isIdentifier(declaration.name);
    const text = defers ? `const ${declaration.getText(context.file)};` : null;
    const rest = { from: use, later, declaration: text, ...ofValue(context, value) };
    return [...variables].map((name) => making({ name, ...rest }));
  });
  return [all, makes];
}

function expressionMakings(context: Context, expression: TypeScript.Expression): Scanned {
  const { ts } = context;
  const isAssignment =
    ts.isBinaryExpression(expression) &&
    expression.operatorToken.kind === ts.SyntaxKind.EqualsToken &&
    ts.isIdentifier(expression.left);
  if (!isAssignment) return [freeNames(ts, expression).use, []];
  const { use, later } = freeNames(ts, expression.right, { defers: true });
  const name = (expression.left as TypeScript.Identifier).text;
  const replaces = !use.reads.has(name);
  const made = making({ name, from: use, later, replaces, ...ofValue(context, expression.right) });
  return [use, [made]];
}

function ofValue(
  { ts, file }: Context,
  value: TypeScript.Expression | undefined,
): Pick<Making, "fixed" | "alias" | "holds"> {
  if (value === undefined) return { fixed: "undefined", alias: null, holds: new Set() };
  const alias = ts.isIdentifier(value) ? value.text : null;
  const fixed = isPlain(ts, value) ? codeOf({ ts, file }, value) : null;
  return { fixed, alias, holds: heldNames(ts, value) };
}

// Its words one by one: a change of comments or of lines is none.
function codeOf({ ts, file }: Context, node: TypeScript.Node): string {
  const parts = node.getChildren(file).filter((one) => !ts.isJSDoc(one));
  if (parts.length === 0) return node.getText(file);
  return parts.map((one) => codeOf({ ts, file }, one)).join(" ");
}

// Literals of values that cannot be changed, and functions.
function isPlain(ts: Ts, value: TypeScript.Expression): boolean {
  if (ts.isParenthesizedExpression(value) || ts.isAsExpression(value)) {
    return isPlain(ts, value.expression);
  }
  if (ts.isPrefixUnaryExpression(value)) return isPlain(ts, value.operand);
  if (ts.isArrowFunction(value) || ts.isFunctionExpression(value)) return true;
  if (ts.isRegularExpressionLiteral(value)) return false;
  const { NullKeyword, TrueKeyword, FalseKeyword } = ts.SyntaxKind;
  return (
    ts.isLiteralExpression(value) ||
    [NullKeyword, TrueKeyword, FalseKeyword].includes(value.kind as never)
  );
}

function isEmpty(use: Use): boolean {
  return Object.values(use).every((names: ReadonlySet<string>) => names.size === 0);
}
