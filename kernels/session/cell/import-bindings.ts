import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { letOf, member } from "./made-nodes.js";

/**
 * `import d, { a as b } from "m"` → `let { default: d, a: b } = await __banquette.named("m", […])`;
 * nothing for other statements.
 */
export function importBindings(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  statement: TypeScript.Statement,
): TypeScript.Statement[] {
  if (!ts.isImportDeclaration(statement)) return [];
  const { importClause: clause, moduleSpecifier } = statement;
  const load = (method: string, more: TypeScript.Expression[] = []) =>
    factory.createAwaitExpression(
      factory.createCallExpression(member(factory, method), [], [moduleSpecifier, ...more]),
    );
  if (clause === undefined) {
    const effect = factory.createExpressionStatement(load("load"));
    return [ts.setTextRange(effect, statement)];
  }
  const bind = (name: TypeScript.BindingName, value: TypeScript.Expression) => {
    const declaration = factory.createVariableDeclaration(name, undefined, undefined, value);
    return ts.setTextRange(letOf(ts, factory, [declaration]), statement);
  };
  const { elements, namespace } = importedNames(ts, clause);
  const bound: TypeScript.Statement[] = [];
  if (elements.length > 0) {
    const names = elements.map(([name]) => factory.createStringLiteral(name));
    const pattern = factory.createObjectBindingPattern(
      elements.map(([name, local]) =>
        factory.createBindingElement(undefined, factory.createStringLiteral(name), local),
      ),
    );
    bound.push(bind(pattern, load("named", [factory.createArrayLiteralExpression(names)])));
  }
  if (namespace !== null) bound.push(bind(namespace, load("load")));
  return bound;
}

function importedNames(
  ts: Ts,
  clause: TypeScript.ImportClause,
): {
  readonly elements: readonly (readonly [string, TypeScript.Identifier])[];
  readonly namespace: TypeScript.Identifier | null;
} {
  const { name, namedBindings } = clause;
  const own = name === undefined ? [] : [["default", name] as const];
  if (namedBindings === undefined) return { elements: own, namespace: null };
  if (ts.isNamespaceImport(namedBindings)) return { elements: own, namespace: namedBindings.name };
  const named = namedBindings.elements.map(
    (element) => [(element.propertyName ?? element.name).text, element.name] as const,
  );
  return { elements: [...own, ...named], namespace: null };
}
