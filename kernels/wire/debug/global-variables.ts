import type { Runtime } from "node:inspector";
import { type DebugValues, type DebugVariable, objectGroup } from "./debug-values.js";
import type { MainInspector } from "./main-inspector.js";

/** The value of an expression in the scope of all cells. */
export function evaluated(
  inspector: MainInspector,
  expression: string,
): Promise<Runtime.EvaluateReturnType> {
  // Without V8's REPL mode, whose answers wait for the end of what computes.
  const options = { expression, silent: true, generatePreview: true, objectGroup };
  return inspector.post("Runtime.evaluate", options);
}

/** What the names of all cells hold, by name; those that hold nothing yet are left out. */
export async function globalVariables(
  inspector: MainInspector,
  values: DebugValues,
): Promise<readonly DebugVariable[]> {
  const { names } = await inspector.post<Runtime.GlobalLexicalScopeNamesReturnType>(
    "Runtime.globalLexicalScopeNames",
  );
  const all = await Promise.all(
    names.map(async (name) => {
      const { result, exceptionDetails } = await evaluated(inspector, name);
      return exceptionDetails === undefined ? [values.variable(name, result)] : [];
    }),
  );
  return all.flat().sort((a, b) => (a.name < b.name ? -1 : 1));
}
