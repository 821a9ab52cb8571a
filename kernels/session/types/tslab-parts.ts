import type TypeScript from "typescript";
import { quickInfoAt } from "./quick-info.js";

/**
 * What tslab's converter takes from its own build of TypeScript 5.0 and TypeScript itself does not
 * export under that name. All else that it takes is the same in both.
 */
export interface TslabParts {
  getDefaultTypeRoots(folder: string): readonly string[];
  getNullTransformationContext(): TypeScript.TransformationContext;
  getPreEmitDiagnosticsOfFiles(
    program: TypeScript.Program,
    files: readonly TypeScript.SourceFile[],
  ): readonly TypeScript.Diagnostic[];
  getQuickInfoAtPosition: ReturnType<typeof quickInfoAt>;
  readonly Completions: { readonly getCompletionsAtPositionForTslab: CompletionsAt };
}

/** `host, program, log, file, position, …` as the converter gives them. */
export type CompletionsAt = (
  host: object,
  program: TypeScript.Program,
  log: (text: string) => void,
  file: TypeScript.SourceFile,
  position: number,
  ...rest: readonly unknown[]
) => TypeScript.CompletionInfo | undefined;

// Exported by the package, and left out of its declarations.
type Inner = typeof TypeScript & {
  readonly nullTransformationContext: TypeScript.TransformationContext;
  readonly Completions: { readonly getCompletionsAtPosition: CompletionsAt };
};

/** These parts, made from a TypeScript package of any version from 5.0 on. */
export function tslabParts(ts: typeof TypeScript): TslabParts {
  const { nullTransformationContext, Completions } = ts as Inner;
  return {
    getDefaultTypeRoots: (folder) =>
      ts.getEffectiveTypeRoots({}, { getCurrentDirectory: () => folder }) ?? [],
    getNullTransformationContext: () => nullTransformationContext,
    getPreEmitDiagnosticsOfFiles: (program, files) => diagnosticsOf(ts, program, files),
    getQuickInfoAtPosition: quickInfoAt(ts),
    Completions: {
      ...Completions,
      getCompletionsAtPositionForTslab: Completions.getCompletionsAtPosition,
    },
  };
}

function diagnosticsOf(
  ts: typeof TypeScript,
  program: TypeScript.Program,
  files: readonly TypeScript.SourceFile[],
): readonly TypeScript.Diagnostic[] {
  const { declaration } = program.getCompilerOptions();
  const found = files.flatMap((file) => [
    ...program.getSyntacticDiagnostics(file),
    ...program.getSemanticDiagnostics(file),
    ...(declaration ? program.getDeclarationDiagnostics(file) : []),
  ]);
  const ofAll = [...program.getOptionsDiagnostics(), ...program.getGlobalDiagnostics()];
  return ts.sortAndDeduplicateDiagnostics([...ofAll, ...found]);
}
