import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

type Statements = readonly TypeScript.Statement[];

/**
 * Takes every `var` outside functions (they are names of the whole cell, also from within blocks
 * and loops) out of its place: returns the names, and the statements with assignments instead.
 */
export function hoistVariables(
  ts: Ts,
  context: TypeScript.TransformationContext,
  statements: Statements,
): { readonly names: readonly string[]; readonly statements: Statements } {
  const names = new Set<string>();
  const { factory } = context;
  const visit: TypeScript.Visitor = (node) => {
    if (ts.isFunctionLike(node) || ts.isClassLike(node)) return node;
    if (ts.isVariableStatement(node) && isVar(ts, node.declarationList)) {
      const assigned = assignments(ts, factory, node.declarationList, names);
      if (assigned === null) return factory.createEmptyStatement();
      return ts.setTextRange(factory.createExpressionStatement(assigned), node);
    }
    const inner = ts.visitEachChild(node, visit, context);
    if (ts.isForStatement(inner) && isVar(ts, inner.initializer)) {
      const start = assignments(ts, factory, inner.initializer, names) ?? undefined;
      const { condition, incrementor, statement } = inner;
      return factory.updateForStatement(inner, start, condition, incrementor, statement);
    }
    if (ts.isForOfStatement(inner) && isVar(ts, inner.initializer)) {
      const target = loopTarget(ts, inner.initializer, names);
      const { awaitModifier, expression, statement } = inner;
      return factory.updateForOfStatement(inner, awaitModifier, target, expression, statement);
    }
    if (ts.isForInStatement(inner) && isVar(ts, inner.initializer)) {
      const target = loopTarget(ts, inner.initializer, names);
      return factory.updateForInStatement(inner, target, inner.expression, inner.statement);
    }
    return inner;
  };
  const kept = statements.map((statement) => visit(statement) as TypeScript.Statement);
  return { names: [...names], statements: kept };
}

function isVar(
  ts: Ts,
  list: TypeScript.Node | undefined,
): list is TypeScript.VariableDeclarationList {
  if (list === undefined || !ts.isVariableDeclarationList(list)) return false;
  return (list.flags & ts.NodeFlags.BlockScoped) === 0;
}

// `var a = 1, { b } = c, d` → `a = 1, { b } = c`.
function assignments(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  list: TypeScript.VariableDeclarationList,
  names: Set<string>,
): TypeScript.Expression | null {
  let joined: TypeScript.Expression | null = null;
  for (const declaration of list.declarations) {
    const target = assignmentTarget(ts, declaration.name, names);
    if (declaration.initializer === undefined) continue;
    const one = ts.setTextRange(
      factory.createAssignment(target, declaration.initializer),
      declaration,
    );
    joined = joined === null ? one : factory.createComma(joined, one);
  }
  return joined;
}

function loopTarget(
  ts: Ts,
  list: TypeScript.VariableDeclarationList,
  names: Set<string>,
): TypeScript.Expression {
  const declaration = list.declarations[0];
  if (declaration === undefined) throw new Error("a loop declares one variable");
  return assignmentTarget(ts, declaration.name, names);
}

// A name as it stands; a destructuring pattern as the same pattern of an assignment.
function assignmentTarget(
  ts: Ts,
  name: TypeScript.BindingName,
  names: Set<string>,
): TypeScript.Expression {
  const { factory } = ts;
  if (ts.isIdentifier(name)) {
    names.add(name.text);
    return name;
  }
  const target = (element: TypeScript.BindingElement): TypeScript.Expression => {
    const inner = assignmentTarget(ts, element.name, names);
    if (element.initializer === undefined) return inner;
    return factory.createAssignment(inner, element.initializer);
  };
  if (ts.isArrayBindingPattern(name)) {
    return factory.createArrayLiteralExpression(
      name.elements.map((element) => {
        if (ts.isOmittedExpression(element)) return factory.createOmittedExpression();
        if (element.dotDotDotToken) return factory.createSpreadElement(target(element));
        return target(element);
      }),
    );
  }
  return factory.createObjectLiteralExpression(
    name.elements.map((element) => {
      if (element.dotDotDotToken) return factory.createSpreadAssignment(target(element));
      const key = element.propertyName ?? (element.name as TypeScript.Identifier);
      return factory.createPropertyAssignment(key, target(element));
    }),
  );
}
