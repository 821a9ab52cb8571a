import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { freeNames } from "./lineage-names.js";
import type { Use } from "./lineage-place.js";

/** A part of a name's value, such as `.k` or `.rows[0]` of it. */
export interface SetPart {
  readonly name: string;
  readonly part: string;
  /** What it is set to uses these. */
  readonly from: Use;
}

/** What `o.k = value` sets; null for other statements, and for parts whose name is worked out. */
export function setPart(ts: Ts, statement: TypeScript.Statement): SetPart | null {
  if (!ts.isExpressionStatement(statement)) return null;
  const { expression } = statement;
  if (!ts.isBinaryExpression(expression)) return null;
  if (expression.operatorToken.kind !== ts.SyntaxKind.EqualsToken) return null;
  const found = partOf(ts, expression.left);
  if (found === null || found.part === "") return null;
  return { ...found, from: freeNames(ts, expression.right).use };
}

function partOf(ts: Ts, node: TypeScript.Expression): Omit<SetPart, "from"> | null {
  if (ts.isIdentifier(node)) return { name: node.text, part: "" };
  if (ts.isPropertyAccessExpression(node)) {
    const owner = partOf(ts, node.expression);
    return owner && { ...owner, part: `${owner.part}.${node.name.text}` };
  }
  if (ts.isElementAccessExpression(node) && ts.isLiteralExpression(node.argumentExpression)) {
    const owner = partOf(ts, node.expression);
    return owner && { ...owner, part: `${owner.part}[${node.argumentExpression.text}]` };
  }
  return null;
}

/** Names whose values a value holds as they are (`a`, `[a]`, `{ a, b: [c] }`), and makes no other use of. */
export function heldNames(ts: Ts, value: TypeScript.Expression): ReadonlySet<string> {
  const held = new Set<string>();
  const others: TypeScript.Node[] = [];
  const visit = (node: TypeScript.Expression): void => {
    if (ts.isIdentifier(node)) held.add(node.text);
    else if (ts.isParenthesizedExpression(node) || ts.isAsExpression(node)) visit(node.expression);
    else if (ts.isArrayLiteralExpression(node)) node.elements.forEach(visit);
    else if (ts.isObjectLiteralExpression(node)) node.properties.forEach(property);
    else others.push(node);
  };
  const property = (node: TypeScript.ObjectLiteralElementLike): void => {
    if (ts.isShorthandPropertyAssignment(node)) held.add(node.name.text);
    else if (ts.isPropertyAssignment(node) && !ts.isComputedPropertyName(node.name)) {
      visit(node.initializer);
    } else others.push(node);
  };
  visit(value);
  for (const node of others) {
    const { use, later } = freeNames(ts, node);
    for (const name of [...use.reads, ...use.writes, ...later.reads]) held.delete(name);
  }
  return held;
}
