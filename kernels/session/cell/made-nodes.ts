import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

/** The global through which a running cell reaches its session. */
export const sessionGlobal = "__banquette";

/** `__banquette.name`. */
export function member(factory: TypeScript.NodeFactory, name: string): TypeScript.Expression {
  return factory.createPropertyAccessExpression(factory.createIdentifier(sessionGlobal), name);
}

/** `__banquette.run7.name`: what the cell of this execution reaches of its own. */
export function ownMember(
  factory: TypeScript.NodeFactory,
  execution: number,
  name: string,
): TypeScript.Expression {
  return factory.createPropertyAccessExpression(member(factory, `run${execution}`), name);
}

/** `let a, b;` */
export function letStatement(ts: Ts, factory: TypeScript.NodeFactory, names: readonly string[]) {
  const declarations = names.map((name) => factory.createVariableDeclaration(name));
  return letOf(ts, factory, declarations);
}

/** `let` with declarations that are there already. */
export function letOf(
  ts: Ts,
  factory: TypeScript.NodeFactory,
  declarations: readonly TypeScript.VariableDeclaration[],
): TypeScript.VariableStatement {
  return factory.createVariableStatement(
    [],
    factory.createVariableDeclarationList(declarations, ts.NodeFlags.Let),
  );
}
