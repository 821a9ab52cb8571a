import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

/** Methods of lists, typed arrays, maps and sets that change them. */
const ofLists = "push pop shift unshift splice sort reverse fill copyWithin";
const ofMaps = "set add delete clear append";
const changing: ReadonlySet<string> = new Set(`${ofLists} ${ofMaps}`.split(" "));

/** Functions that change their first argument. */
const handedTo: ReadonlySet<string> = new Set([
  "Object.assign",
  "Object.defineProperty",
  "Object.defineProperties",
  "Object.setPrototypeOf",
  "Reflect.set",
  "Reflect.deleteProperty",
]);

/** What a call changes, by the name of what it calls or by `inplace: true`; null for nothing known. */
export function changedByCall(
  ts: Ts,
  node: TypeScript.CallExpression | TypeScript.NewExpression,
): TypeScript.Expression | null {
  const { expression: callee, arguments: given = [] } = node;
  if (ts.isNewExpression(node) || !ts.isPropertyAccessExpression(callee)) return null;
  const { expression: owner, name } = callee;
  if (ts.isIdentifier(owner) && handedTo.has(`${owner.text}.${name.text}`)) return given[0] ?? null;
  const isInPlace = given.some((one) => ts.isObjectLiteralExpression(one) && asksInPlace(ts, one));
  return changing.has(name.text) || isInPlace ? owner : null;
}

// `{ inplace: true }`, as data frames take it.
function asksInPlace(ts: Ts, { properties }: TypeScript.ObjectLiteralExpression): boolean {
  return properties.some(
    (one) =>
      ts.isPropertyAssignment(one) &&
      ts.isIdentifier(one.name) &&
      one.name.text === "inplace" &&
      one.initializer.kind === ts.SyntaxKind.TrueKeyword,
  );
}
