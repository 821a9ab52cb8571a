import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

/** The names that a binding pattern binds, added to `names`. */
export function namesOf(
  ts: Ts,
  name: TypeScript.BindingName,
  names = new Set<string>(),
): Set<string> {
  if (ts.isIdentifier(name)) return names.add(name.text);
  for (const element of name.elements) {
    if (!ts.isOmittedExpression(element)) namesOf(ts, element.name, names);
  }
  return names;
}

/**
 * The names that a node declares for what is within it: those of a block, a loop's head, a switch,
 * a `catch`; for a function also every `var` in its body. A `var` outside functions is none of them:
 * it is a name of the whole cell.
 */
export function declaredIn(ts: Ts, node: TypeScript.Node): Set<string> {
  const names = new Set<string>();
  if (ts.isBlock(node) || ts.isModuleBlock(node)) lexical(ts, node.statements, names);
  else if (ts.isCaseBlock(node)) {
    for (const clause of node.clauses) lexical(ts, clause.statements, names);
  } else if (ts.isCatchClause(node) && node.variableDeclaration !== undefined) {
    namesOf(ts, node.variableDeclaration.name, names);
  } else if (ts.isForStatement(node) || ts.isForInStatement(node) || ts.isForOfStatement(node)) {
    listed(ts, node.initializer, names);
  } else if (ts.isFunctionLike(node)) {
    const { body } = node as TypeScript.FunctionLikeDeclaration;
    if (body !== undefined) hoisted(ts, body, names);
  }
  return names;
}

function lexical(ts: Ts, statements: readonly TypeScript.Statement[], names: Set<string>): void {
  for (const statement of statements) {
    if (ts.isVariableStatement(statement)) listed(ts, statement.declarationList, names);
    const isNamed =
      ts.isFunctionDeclaration(statement) ||
      ts.isClassDeclaration(statement) ||
      ts.isEnumDeclaration(statement);
    if (isNamed && statement.name !== undefined) names.add(statement.name.text);
  }
}

function listed(ts: Ts, list: TypeScript.Node | undefined, names: Set<string>): void {
  if (list === undefined || !ts.isVariableDeclarationList(list)) return;
  if ((list.flags & ts.NodeFlags.BlockScoped) === 0) return;
  for (const { name } of list.declarations) namesOf(ts, name, names);
}

// Every `var` of a function's body, however deep, without the functions in it.
function hoisted(ts: Ts, node: TypeScript.Node, names: Set<string>): void {
  if (ts.isFunctionLike(node) || ts.isClassLike(node)) return;
  if (ts.isVariableDeclarationList(node) && (node.flags & ts.NodeFlags.BlockScoped) === 0) {
    for (const { name } of node.declarations) namesOf(ts, name, names);
  }
  ts.forEachChild(node, (child) => hoisted(ts, child, names));
}
