import type TypeScript from "typescript";
import { isGlobalName } from "../cell/global-names.js";
import { marked } from "../cell/marked-names.js";
import type { Declared } from "./declared-anew.js";
import { loadTypeScript, type Ts } from "./typescript.js";

/**
 * The declarations with what they mean by these names kept, although a cell declares the names anew:
 * an earlier declaration that others refer to goes on under a name of its own, and a global's type
 * becomes `globalThis.Map`. So a value made before keeps the type that it was made with.
 */
export function withEarlierKept(declarations: string, anew: readonly Declared[]): string {
  const names = new Map(anew.map((one) => [one.name, one]));
  const ts = loadTypeScript();
  const file = ts.createSourceFile("d.ts", declarations, ts.ScriptTarget.ES2022, true);
  const statements = file.statements.map((statement) => ({
    declares: declaredBy(ts, statement),
    mentions: mentionsIn(ts, statement, names),
  }));
  const renamed = new Map<string, string>();
  for (const name of names.keys()) {
    const isDeclared = statements.some(({ declares }) => declares.has(name));
    const isNeeded = statements.some(
      ({ declares, mentions }) => !declares.has(name) && mentions.some(({ text }) => text === name),
    );
    if (isDeclared && isNeeded) renamed.set(name, freeName(name, declarations));
    else if (!isDeclared && isNeeded && isGlobalName(name)) renamed.set(name, `globalThis.${name}`);
  }
  if (renamed.size === 0) return declarations;
  const places = statements.flatMap(({ declares, mentions }) => [
    ...mentions,
    ...[...declares].map(([text, at]) => ({ text, at })),
  ]);
  return replaced(
    declarations,
    places.filter(({ text }) => renamed.has(text)),
    renamed,
  );
}

interface Mention {
  readonly text: string;
  readonly at: number;
}

function replaced(
  text: string,
  places: readonly Mention[],
  by: ReadonlyMap<string, string>,
): string {
  let made = text;
  for (const { text: name, at } of [...places].sort((a, b) => b.at - a.at)) {
    made = made.slice(0, at) + (by.get(name) ?? name) + made.slice(at + name.length);
  }
  return made;
}

function freeName(name: string, text: string): string {
  const next = marked(name);
  return text.includes(next) ? freeName(next, text) : next;
}

/** The declarations with those of one name replaced by others, as `declarationTexts` gives them. */
export function withDeclaration(declarations: string, name: string, text: string): string {
  const ts = loadTypeScript();
  const file = ts.createSourceFile("d.ts", declarations, ts.ScriptTarget.ES2022, true);
  const spans = file.statements.flatMap((statement) => {
    if (!ts.isVariableStatement(statement)) {
      return declaredBy(ts, statement).has(name)
        ? [{ node: statement as TypeScript.Node, text }]
        : [];
    }
    return statement.declarationList.declarations
      .filter((one) => one.name.getText(file) === name)
      .map((node) => ({ node: node as TypeScript.Node, text: text.replace(/^let /, "") }));
  });
  let made = declarations;
  for (const [at, span] of [...spans.entries()].reverse()) {
    const put = at === 0 ? span.text : "";
    made = made.slice(0, span.node.getStart(file)) + put + made.slice(span.node.end);
  }
  return made;
}

/** The text of each name's declaration; several where it is overloaded. */
export function declarationTexts(declarations: string): ReadonlyMap<string, string> {
  const ts = loadTypeScript();
  const file = ts.createSourceFile("d.ts", declarations, ts.ScriptTarget.ES2022, true);
  const texts = new Map<string, string>();
  const add = (name: string, text: string) => {
    const before = texts.get(name);
    texts.set(name, before === undefined ? text : `${before}\n${text}`);
  };
  for (const statement of file.statements) {
    if (ts.isVariableStatement(statement)) {
      for (const one of statement.declarationList.declarations) {
        add(one.name.getText(file), `let ${one.getText(file)}`);
      }
    } else {
      for (const name of declaredBy(ts, statement).keys()) add(name, statement.getText(file));
    }
  }
  return texts;
}

// Names that a statement declares, with their places.
function declaredBy(ts: Ts, statement: TypeScript.Statement): Map<string, number> {
  const found = new Map<string, number>();
  const add = (name: TypeScript.Node | undefined) => {
    if (name !== undefined && ts.isIdentifier(name)) found.set(name.text, name.getStart());
  };
  if (ts.isVariableStatement(statement)) {
    for (const { name } of statement.declarationList.declarations) add(name);
  } else if (ts.isImportDeclaration(statement)) {
    const { name, namedBindings } = statement.importClause ?? {};
    add(name);
    if (namedBindings !== undefined && ts.isNamespaceImport(namedBindings)) add(namedBindings.name);
    else for (const element of namedBindings?.elements ?? []) add(element.name);
  } else add((statement as { readonly name?: TypeScript.Node }).name);
  return found;
}

// Where a statement refers to these names; those of type parameters are its own.
function mentionsIn(
  ts: Ts,
  statement: TypeScript.Statement,
  names: ReadonlyMap<string, Declared>,
): Mention[] {
  if (ts.isImportDeclaration(statement)) return [];
  const found: Mention[] = [];
  const visit = (node: TypeScript.Node, own: ReadonlySet<string>): void => {
    const more = typeParametersOf(ts, node);
    const within = more.length > 0 ? new Set([...own, ...more]) : own;
    const referred = referredBy(ts, node);
    const anew = referred && !within.has(referred.text) ? names.get(referred.text) : undefined;
    if (referred !== null && anew !== undefined && isMeant(ts, node, anew)) {
      found.push({ text: referred.text, at: referred.getStart() });
    }
    ts.forEachChild(node, (child) => visit(child, within));
  };
  visit(statement, new Set());
  return found;
}

function isMeant(ts: Ts, node: TypeScript.Node, { isType, isValue }: Declared): boolean {
  if (ts.isTypeReferenceNode(node)) return isType;
  return ts.isTypeQueryNode(node) ? isValue : true;
}

function typeParametersOf(ts: Ts, node: TypeScript.Node): string[] {
  if (ts.isMappedTypeNode(node)) return [node.typeParameter.name.text];
  if (ts.isConditionalTypeNode(node)) return inferred(ts, node.extendsType);
  const { typeParameters } = node as { readonly typeParameters?: Parameters };
  return (typeParameters ?? []).map(({ name }) => name.text);
}

type Parameters = TypeScript.NodeArray<TypeScript.TypeParameterDeclaration>;

function inferred(ts: Ts, node: TypeScript.Node): string[] {
  const found: string[] = ts.isInferTypeNode(node) ? [node.typeParameter.name.text] : [];
  ts.forEachChild(node, (child) => {
    found.push(...inferred(ts, child));
  });
  return found;
}

// `A` of `A<B>`, `A.B`, `typeof A.b`, `extends A`.
function referredBy(ts: Ts, node: TypeScript.Node): TypeScript.Identifier | null {
  if (ts.isTypeReferenceNode(node)) return first(ts, node.typeName);
  if (ts.isTypeQueryNode(node)) return first(ts, node.exprName);
  if (ts.isExpressionWithTypeArguments(node)) return first(ts, node.expression);
  return null;
}

function first(ts: Ts, node: TypeScript.Node): TypeScript.Identifier | null {
  if (ts.isIdentifier(node)) return node;
  if (ts.isQualifiedName(node)) return first(ts, node.left);
  return ts.isPropertyAccessExpression(node) ? first(ts, node.expression) : null;
}
