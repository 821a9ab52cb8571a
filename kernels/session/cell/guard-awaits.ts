import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { member } from "./made-nodes.js";

/**
 * `await x` → `await __banquette.wait(x, 7)` and `for await (… of x)` → `for await (… of
 * __banquette.each(x, 7))` outside functions, so that an interrupt can end the waiting.
 */
export function guardAwaits(
  ts: Ts,
  context: TypeScript.TransformationContext,
  execution: number,
): TypeScript.Visitor {
  const { factory } = context;
  const call = (name: string, value: TypeScript.Expression) =>
    factory.createCallExpression(member(factory, name), undefined, [
      value,
      factory.createNumericLiteral(execution),
    ]);
  const visit: TypeScript.Visitor = (node) => {
    if (ts.isFunctionLike(node) || ts.isClassLike(node)) return node;
    const inner = ts.visitEachChild(node, visit, context);
    if (ts.isAwaitExpression(inner)) {
      return factory.updateAwaitExpression(inner, call("wait", inner.expression));
    }
    if (ts.isForOfStatement(inner) && inner.awaitModifier !== undefined) {
      const { awaitModifier, initializer, expression, statement } = inner;
      const guarded = call("each", expression);
      return factory.updateForOfStatement(inner, awaitModifier, initializer, guarded, statement);
    }
    return inner;
  };
  return visit;
}
