import type TypeScript from "@tslab/typescript-for-tslab";
import { hoistVariables } from "./hoist-variables.js";
import type { Ts } from "./typescript.js";

/** The global through which a running cell reaches its session. */
export const sessionGlobal = "__banquette";

type Factory = TypeScript.TransformerFactory<TypeScript.SourceFile>;

/**
 * Makes a cell's JavaScript runnable in V8's REPL mode, which allows a name to be declared anew
 * only in the way it was declared first. So every top-level name becomes one `let` binding:
 * constants and variables in place, functions and imports at the top, as an ES module hoists them.
 * Imports go to the session's loader, and the value of a last expression is kept for showing.
 */
export function runnable(ts: Ts): Factory {
  return (context) => (file) => {
    if (file.isDeclarationFile) return file;
    const { factory } = context;
    const shown = markLast(ts, factory, file);
    const loaded = ts.visitEachChild(shown, loading(ts, context), context);
    const { names, statements } = hoistVariables(ts, context, loaded.statements);
    const hoisted = statements.flatMap((statement) => functionBinding(ts, factory, statement));
    const imports = statements.flatMap((statement) => importBindings(ts, factory, statement));
    const rest = statements.flatMap((statement) => inPlace(ts, factory, statement));
    return factory.updateSourceFile(loaded, [
      factory.createExpressionStatement(factory.createStringLiteral("use strict")),
      ...(names.length > 0 ? [letStatement(ts, factory, names)] : []),
      ...hoisted,
      ...imports,
      ...rest,
    ]);
  };
}

// `value` → `__banquette.shown = value`, where the cell's own text ends with an expression that no
// semicolon follows.
function markLast(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  file: TypeScript.SourceFile,
): TypeScript.SourceFile {
  const source = ts.getOriginalNode(file) as TypeScript.SourceFile;
  const written = source.statements.filter((one) => !ts.isExportDeclaration(one)).at(-1);
  if (written === undefined || !ts.isExpressionStatement(written)) return file;
  if (written.getText(source).endsWith(";")) return file;
  const at = file.statements.findLastIndex((one) => !ts.isExportDeclaration(one));
  const last = file.statements[at];
  if (last === undefined || !ts.isExpressionStatement(last)) return file;
  const assigned = factory.createAssignment(member(factory, "shown"), last.expression);
  const statements = [...file.statements];
  statements[at] = factory.updateExpressionStatement(last, assigned);
  return factory.updateSourceFile(file, statements);
}

function loading(ts: Ts, context: TypeScript.TransformationContext): TypeScript.Visitor {
  const { factory } = context;
  const visit: TypeScript.Visitor = (node) => {
    const inner = ts.visitEachChild(node, visit, context);
    if (ts.isCallExpression(inner) && inner.expression.kind === ts.SyntaxKind.ImportKeyword) {
      return factory.updateCallExpression(inner, member(factory, "load"), [], inner.arguments);
    }
    if (ts.isMetaProperty(inner) && inner.keywordToken === ts.SyntaxKind.ImportKeyword) {
      return member(factory, "meta");
    }
    return inner;
  };
  return visit;
}

function member(factory: TypeScript.NodeFactory, name: string): TypeScript.Expression {
  return factory.createPropertyAccessExpression(factory.createIdentifier(sessionGlobal), name);
}

function letStatement(ts: Ts, factory: TypeScript.NodeFactory, names: readonly string[]) {
  const declarations = names.map((name) => factory.createVariableDeclaration(name));
  return letOf(ts, factory, declarations);
}

function letOf(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  declarations: readonly TypeScript.VariableDeclaration[],
): TypeScript.VariableStatement {
  return factory.createVariableStatement(
    [],
    factory.createVariableDeclarationList(declarations, ts.NodeFlags.Let),
  );
}

// `function f() {}` → `let f = function () {}`: inside it, `f` is the one binding, too.
function functionBinding(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  statement: TypeScript.Statement,
): TypeScript.Statement[] {
  if (!ts.isFunctionDeclaration(statement) || statement.name === undefined) return [];
  if (statement.body === undefined) return [];
  const modifiers = (ts.getModifiers(statement) ?? []).filter(
    (one) => one.kind === ts.SyntaxKind.AsyncKeyword,
  );
  const made = factory.createFunctionExpression(
    modifiers,
    statement.asteriskToken,
    undefined,
    undefined,
    statement.parameters,
    undefined,
    statement.body,
  );
  ts.setTextRange(made, statement);
  const declaration = factory.createVariableDeclaration(statement.name, undefined, undefined, made);
  return [ts.setTextRange(letOf(ts, factory, [declaration]), statement)];
}

// `import d, { a as b } from "m"` → `let { default: d, a: b } = await __banquette.named("m", […])`.
function importBindings(
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
  const { elements, namespace } = importedNames(ts, factory, clause);
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
  _factory: TypeScript.NodeFactory,
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

function inPlace(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  statement: TypeScript.Statement,
): TypeScript.Statement[] {
  if (ts.isExportDeclaration(statement) || ts.isImportDeclaration(statement)) return [];
  if (ts.isFunctionDeclaration(statement)) return [];
  if (!ts.isVariableStatement(statement)) return [statement];
  const list = factory.createVariableDeclarationList(
    statement.declarationList.declarations,
    ts.NodeFlags.Let,
  );
  return [factory.updateVariableStatement(statement, [], ts.setTextRange(list, statement))];
}
