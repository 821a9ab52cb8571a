import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

/** Whether the value is that of a child, or holds its children's values. */
export function isTransparent(ts: Ts, node: TypeScript.Node): boolean {
  return (
    ts.isParenthesizedExpression(node) ||
    ts.isAsExpression(node) ||
    ts.isSatisfiesExpression(node) ||
    ts.isNonNullExpression(node) ||
    ts.isObjectLiteralExpression(node) ||
    ts.isArrayLiteralExpression(node) ||
    ts.isConditionalExpression(node)
  );
}

/** Whether the node is of types alone, or names what another module gives. */
export function isOfTypes(ts: Ts, node: TypeScript.Node): boolean {
  if (ts.isExpressionWithTypeArguments(node)) return false;
  return (
    ts.isTypeNode(node) ||
    ts.isTypeParameterDeclaration(node) ||
    ts.isInterfaceDeclaration(node) ||
    ts.isTypeAliasDeclaration(node) ||
    ts.isImportDeclaration(node) ||
    ts.isExportDeclaration(node) ||
    (ts.isHeritageClause(node) && node.token === ts.SyntaxKind.ImplementsKeyword)
  );
}

/** `a` of `a`, `a.b`, `a[0].b!`; null of anything else. */
export function rootOf(ts: Ts, node: TypeScript.Expression): TypeScript.Identifier | null {
  if (ts.isIdentifier(node)) return node;
  const goesOn =
    ts.isPropertyAccessExpression(node) ||
    ts.isElementAccessExpression(node) ||
    ts.isNonNullExpression(node) ||
    ts.isParenthesizedExpression(node) ||
    ts.isAsExpression(node);
  return goesOn ? rootOf(ts, node.expression) : null;
}

/** Whether an operator's value is one of its operands'. */
export function picksOperand(ts: Ts, kind: TypeScript.SyntaxKind): boolean {
  return [
    ts.SyntaxKind.BarBarToken,
    ts.SyntaxKind.QuestionQuestionToken,
    ts.SyntaxKind.AmpersandAmpersandToken,
    ts.SyntaxKind.CommaToken,
  ].includes(kind);
}

/** Whether an operator assigns to its left operand. */
export function isAssignment(ts: Ts, kind: TypeScript.SyntaxKind): boolean {
  return kind >= ts.SyntaxKind.FirstAssignment && kind <= ts.SyntaxKind.LastAssignment;
}
