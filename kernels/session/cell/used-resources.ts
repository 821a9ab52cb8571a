import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { ownMember } from "./made-nodes.js";

/**
 * `using a = x` → `const a = __banquette.run7.use(x)`, `await using` → `… .useAsync(x)`, at the top of
 * a cell: the session disposes when the cell has ended, however it ends. Within blocks and functions the
 * compiler itself writes such declarations for this Node.
 */
export function usedResources(
  ts: Ts,
  execution: () => number,
): TypeScript.TransformerFactory<TypeScript.SourceFile> {
  return ({ factory }) =>
    (file) => {
      const statements = file.statements.map((one) => heldBySession(ts, execution(), factory, one));
      const isSame = statements.every((one, at) => one === file.statements[at]);
      return isSame ? file : factory.updateSourceFile(file, statements);
    };
}

function heldBySession(
  ts: Ts,
  execution: number,
  factory: TypeScript.NodeFactory,
  statement: TypeScript.Statement,
): TypeScript.Statement {
  if (!ts.isVariableStatement(statement)) return statement;
  const { declarationList: list } = statement;
  const kind = list.flags & ts.NodeFlags.BlockScoped;
  if (kind !== ts.NodeFlags.Using && kind !== ts.NodeFlags.AwaitUsing) return statement;
  const use = ownMember(factory, execution, kind === ts.NodeFlags.Using ? "use" : "useAsync");
  const declarations = list.declarations.map((one) => {
    const { name, exclamationToken, type, initializer = factory.createNull() } = one;
    const held = factory.createCallExpression(use, undefined, [initializer]);
    return factory.updateVariableDeclaration(one, name, exclamationToken, type, held);
  });
  const constants = factory.createVariableDeclarationList(declarations, ts.NodeFlags.Const);
  ts.setTextRange(constants, list);
  return factory.updateVariableStatement(statement, statement.modifiers, constants);
}
