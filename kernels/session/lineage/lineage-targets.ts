import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { rootOf } from "./lineage-nodes.js";

export interface Heard {
  /** A name that is assigned to, itself or a part of it. */
  readonly assigned: (name: TypeScript.Identifier) => void;
  /** Code that runs for it: a default value, a computed key, the object whose part it is. */
  readonly read: (node: TypeScript.Node) => void;
}

/** Tells what an assignment to this expression assigns to: a name, a part of one, or a pattern of such. */
export function assignedTo(ts: Ts, node: TypeScript.Expression, heard: Heard): void {
  if (ts.isIdentifier(node)) heard.assigned(node);
  else if (ts.isArrayLiteralExpression(node)) {
    for (const element of node.elements) assignedTo(ts, element, heard);
  } else if (ts.isObjectLiteralExpression(node)) {
    for (const property of node.properties) assignedProperty(ts, property, heard);
  } else if (isWrapped(ts, node)) assignedTo(ts, node.expression, heard);
  else if (ts.isBinaryExpression(node)) {
    assignedTo(ts, node.left, heard);
    heard.read(node.right);
  } else {
    const root = rootOf(ts, node);
    if (root !== null) heard.assigned(root);
    heard.read(node);
  }
}

type Wrapped =
  | TypeScript.SpreadElement
  | TypeScript.ParenthesizedExpression
  | TypeScript.NonNullExpression
  | TypeScript.AsExpression;

function isWrapped(ts: Ts, node: TypeScript.Node): node is Wrapped {
  return (
    ts.isSpreadElement(node) ||
    ts.isParenthesizedExpression(node) ||
    ts.isNonNullExpression(node) ||
    ts.isAsExpression(node)
  );
}

function assignedProperty(
  ts: Ts,
  property: TypeScript.ObjectLiteralElementLike,
  heard: Heard,
): void {
  if (ts.isShorthandPropertyAssignment(property)) {
    heard.assigned(property.name);
    if (property.objectAssignmentInitializer) heard.read(property.objectAssignmentInitializer);
  } else if (ts.isPropertyAssignment(property)) {
    if (ts.isComputedPropertyName(property.name)) heard.read(property.name.expression);
    assignedTo(ts, property.initializer, heard);
  } else if (ts.isSpreadAssignment(property)) assignedTo(ts, property.expression, heard);
}
