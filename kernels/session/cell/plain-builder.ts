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

export interface BuilderParts {
  readonly options: TypeScript.CompilerOptions;
  /** The cell, or the declarations before it; undefined for another file. */
  readonly fileOf: (name: string) => TypeScript.SourceFile | undefined;
  readonly programOf: () => TypeScript.Program;
}

/**
 * What the converter asks of a builder, with a program that is made when it is first needed: to read a
 * cell's names, the cell's own text is enough.
 */
export function lazyBuilder(ts: Ts, { options, fileOf, programOf }: BuilderParts): Builder {
  let program: TypeScript.Program | null = null;
  const getProgram = () => {
    program ??= programOf();
    return program;
  };
  const getSourceFile = (name: string) => {
    const file = fileOf(name);
    if (file === undefined) return getProgram().getSourceFile(name);
    // The converter reads a cell's names before it checks it.
    if (!file.isDeclarationFile) {
      (ts as Binding).bindSourceFile(file, options);
      listAsWritten(ts, file);
    }
    return file;
  };
  const getAllDependencies = (file: TypeScript.SourceFile) => [...dependencies(getProgram(), file)];
  return { getProgram, getSourceFile, getAllDependencies } as unknown as Builder;
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
