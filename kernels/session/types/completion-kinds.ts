import type TypeScript from "typescript";
import type { CompletionsAt, TslabParts } from "./tslab-parts.js";
import type { SeenTs, Ts } from "./typescript.js";

type Internal = SeenTs & {
  readonly SymbolDisplay: {
    getSymbolKind(
      checker: TypeScript.TypeChecker,
      symbol: TypeScript.Symbol,
      at: TypeScript.Node,
    ): TypeScript.ScriptElementKind;
  };
  findPrecedingToken(at: number, file: TypeScript.SourceFile): TypeScript.Node | undefined;
};

/** The part of the TypeScript package that completes, telling of imported names what they are. */
export function completionsWithKinds(typescript: SeenTs): Pick<TslabParts, "Completions"> {
  const ts = typescript as Internal;
  const original = ts.Completions.getCompletionsAtPositionForTslab;
  const getCompletionsAtPositionForTslab: CompletionsAt = (host, program, ...rest) => {
    const info = original(host, program, ...rest);
    if (!info?.entries.some(isAlias)) return info;
    const [, file, position] = rest;
    const checker = program.getTypeChecker();
    const at = ts.findPrecedingToken(position, file) ?? file;
    const aliases = aliasesAt(ts, checker, at);
    const kindOf = ({ name }: TypeScript.CompletionEntry) => {
      const alias = aliases.get(name);
      if (alias === undefined) return ts.ScriptElementKind.alias;
      return ts.SymbolDisplay.getSymbolKind(checker, checker.getAliasedSymbol(alias), at);
    };
    const entries = info.entries.map((one) => (isAlias(one) ? { ...one, kind: kindOf(one) } : one));
    return { ...info, entries };
  };
  return { Completions: { ...ts.Completions, getCompletionsAtPositionForTslab } };
}

function isAlias({ kind }: TypeScript.CompletionEntry): boolean {
  return kind === ("alias" satisfies `${TypeScript.ScriptElementKind.alias}`);
}

// Imported names in scope, and after `module.` what that module hands on from others.
function aliasesAt(
  ts: Ts,
  checker: TypeScript.TypeChecker,
  at: TypeScript.Node,
): ReadonlyMap<string, TypeScript.Symbol> {
  const access = ts.isPropertyAccessExpression(at) ? at : at.parent;
  const found = ts.isPropertyAccessExpression(access)
    ? checker.getPropertiesOfType(checker.getTypeAtLocation(access.expression))
    : checker.getSymbolsInScope(at, ts.SymbolFlags.Alias);
  const aliases = found.filter(({ flags }) => (flags & ts.SymbolFlags.Alias) !== 0);
  return new Map(aliases.map((symbol) => [symbol.name, symbol]));
}
