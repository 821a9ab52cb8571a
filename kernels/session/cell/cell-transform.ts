import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { bindApart } from "./bound-apart.js";
import { guardAwaits } from "./guard-awaits.js";
import { hoistVariables } from "./hoist-variables.js";
import { importBindings } from "./import-bindings.js";
import { letOf, letStatement, member, ownMember } from "./made-nodes.js";

type Factory = TypeScript.TransformerFactory<TypeScript.SourceFile>;

/**
 * Makes a cell's JavaScript runnable in V8's REPL mode, which allows a name to be declared anew
 * only in the way it was declared first. So every top-level name becomes one `let` binding:
 * constants and variables in place, functions and imports at the top, as an ES module hoists them.
 * Imports go to the session's loader, the value of a last expression is kept for showing, and awaits
 * outside functions go through the session, which knows the cell by its execution's number. Names of
 * globals (`globalNames`: those of them that cells have declared) are bound apart.
 */
export function runnable(
  ts: Ts,
  execution: () => number,
  globalNames: (file: TypeScript.SourceFile) => ReadonlySet<string>,
): Factory {
  return (context) => (file) => {
    if (file.isDeclarationFile) return file;
    const { factory } = context;
    const shown = markLast(ts, execution(), factory, file);
    const loaded = ts.visitEachChild(shown, loading(ts, context), context);
    const guarded = ts.visitEachChild(loaded, guardAwaits(ts, context, execution()), context);
    const { names, statements } = hoistVariables(ts, context, guarded.statements);
    const hoisted = statements.flatMap((statement) => functionBinding(ts, factory, statement));
    const imports = statements.flatMap((statement) => importBindings(ts, factory, statement));
    const rest = statements.flatMap((statement) => {
      const kept = inPlace(ts, factory, statement);
      return kept.length > 0 ? [...reaching(ts, execution(), file, statement), ...kept] : [];
    });
    const all = [
      ...(names.length > 0 ? [letStatement(ts, factory, names)] : []),
      ...hoisted,
      ...imports,
      ...rest,
    ];
    const apart = globalNames(ts.getOriginalNode(file) as TypeScript.SourceFile);
    return factory.updateSourceFile(guarded, [
      factory.createExpressionStatement(factory.createStringLiteral("use strict")),
      ...bindApart(ts, context, all, apart),
    ]);
  };
}

// `value` → `__banquette.run7.shown = value`, where the cell's own text ends with an expression that no
// semicolon follows.
function markLast(
  ts: Ts,
  execution: number,
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
  const assigned = factory.createAssignment(
    ownMember(factory, execution, "shown"),
    last.expression,
  );
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

// `__banquette.run7.at = 2`: tells how far the cell came. The first statement is the type services' own.
function reaching(
  ts: Ts,
  execution: number,
  file: TypeScript.SourceFile,
  statement: TypeScript.Statement,
): TypeScript.Statement[] {
  const source = ts.getOriginalNode(file) as TypeScript.SourceFile;
  const { pos } = ts.getOriginalNode(statement);
  const place = source.statements.findIndex((one) => one.pos <= pos && pos < one.end) - 1;
  if (pos < 0 || place < 0) return [];
  const { factory } = ts;
  const own = ownMember(factory, execution, "at");
  const at = factory.createAssignment(own, factory.createNumericLiteral(place));
  return [factory.createExpressionStatement(at)];
}
