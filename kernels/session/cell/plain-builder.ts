import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";

/** The builder that tslab's converter asks for. */
export type Builder = TypeScript.EmitAndSemanticDiagnosticsBuilderProgram;

// Of the package, and left out of its declarations.
type Resolving = TypeScript.Program & {
  forEachResolvedModule(
    take: (found: { readonly resolvedModule?: TypeScript.ResolvedModule }) => void,
    file: TypeScript.SourceFile,
  ): void;
};

type Binding = Ts & {
  bindSourceFile(file: TypeScript.SourceFile, options: TypeScript.CompilerOptions): void;
};

/**
 * A program without the memory of earlier ones that a builder keeps for a project's incremental
 * emit: a session emits one cell, and keeping that memory costs half of a cell's time.
 */
export function createPlainBuilder(
  ts: Ts,
  ...given: Parameters<TypeScript.CreateProgram<TypeScript.BuilderProgram>>
): Builder {
  const builder = ts.createAbstractBuilder(...given) as Builder;
  const program = builder.getProgram();
  // The converter reads a cell's names before it checks it.
  for (const file of program.getSourceFiles()) {
    if (file.isDeclarationFile) continue;
    (ts as Binding).bindSourceFile(file, program.getCompilerOptions());
    listAsWritten(ts, file);
  }
  builder.getAllDependencies = (file) => [...dependencies(builder.getProgram(), file)];
  return builder;
}

// The converter lists a cell's names to export them; the compiler keeps `__x` as `___x`.
function listAsWritten(ts: Ts, file: TypeScript.SourceFile): void {
  const { locals } = file as { locals?: TypeScript.SymbolTable };
  if (locals === undefined || ![...locals.keys()].some((key) => String(key).startsWith("___"))) {
    return;
  }
  locals.forEach = (take) => {
    for (const [key, symbol] of locals) {
      take(symbol, ts.unescapeLeadingUnderscores(key) as TypeScript.__String, locals);
    }
  };
}

// The file and what it imports, directly or not. Declaration files import no sources.
function dependencies(
  program: TypeScript.Program,
  file: TypeScript.SourceFile,
): ReadonlySet<string> {
  const names = new Set([file.fileName]);
  for (const name of names) {
    const source = program.getSourceFile(name);
    if (source === undefined || source.isDeclarationFile) continue;
    (program as Resolving).forEachResolvedModule(({ resolvedModule }) => {
      if (resolvedModule !== undefined) names.add(resolvedModule.resolvedFileName);
    }, source);
  }
  return names;
}
