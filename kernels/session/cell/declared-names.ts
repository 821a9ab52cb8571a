import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { isGlobalName } from "./global-names.js";

/** A `var` within a loop or a block is a name of the whole cell; a declaration file leaves it out. */
export function innerVariables(
  ts: Ts,
  program: TypeScript.Program,
  file: TypeScript.SourceFile,
): string {
  const checker = program.getTypeChecker();
  return valuesOf(ts, file)
    .filter(({ valueDeclaration }) => isInner(ts, valueDeclaration, file))
    .map((symbol) => {
      const type = checker.getTypeOfSymbolAtLocation(symbol, file);
      const text = checker.typeToString(type, undefined, ts.TypeFormatFlags.NoTruncation);
      return `declare let ${symbol.name}: ${text};\n`;
    })
    .join("");
}

/** Names of globals that these files declare at their top level as values of their own. */
export function declaredGlobals(
  ts: Ts,
  checker: TypeScript.TypeChecker,
  files: readonly (TypeScript.SourceFile | undefined)[],
): ReadonlySet<string> {
  const isValue = (symbol: TypeScript.Symbol) => {
    const isAlias = (symbol.flags & ts.SymbolFlags.Alias) !== 0;
    const { flags } = isAlias ? checker.getAliasedSymbol(symbol) : symbol;
    return (flags & ts.SymbolFlags.Value) !== 0 || (flags & ts.SymbolFlags.Type) === 0;
  };
  return new Set(
    files
      .flatMap((file) => (file === undefined ? [] : localsOf(file)))
      .filter((symbol) => isGlobalName(symbol.name) && isValue(symbol))
      .map(({ name }) => name),
  );
}

function localsOf(file: TypeScript.SourceFile): TypeScript.Symbol[] {
  const { locals } = file as TypeScript.SourceFile & {
    locals?: ReadonlyMap<string, TypeScript.Symbol>;
  };
  return [...(locals?.values() ?? [])];
}

function valuesOf(ts: Ts, file: TypeScript.SourceFile): TypeScript.Symbol[] {
  return localsOf(file).filter((symbol) => (symbol.flags & ts.SymbolFlags.Value) !== 0);
}

function isInner(ts: Ts, node: TypeScript.Node | undefined, file: TypeScript.SourceFile): boolean {
  if (node === undefined || !ts.isVariableDeclaration(node)) return false;
  const holder = node.parent.parent;
  return !(ts.isVariableStatement(holder) && holder.parent === file);
}
