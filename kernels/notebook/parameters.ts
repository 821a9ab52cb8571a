import { loadTypeScript, type Ts } from "../session/typescript.js";
import { type Cell, type CodeCell, hasTag, type Notebook } from "./notebook.js";
import { UnknownParameter } from "./notebook-fault.js";

/** Values for the names that a notebook's cell tagged `parameters` declares. */
export type Parameters = Readonly<Record<string, unknown>>;

export const injectedTag = "injected-parameters";

/**
 * The notebook with a cell after the one tagged `parameters` that gives the names their new values;
 * an injected cell of an earlier run is replaced. A value must be of the declared type: the type
 * check of the injected cell sees to that for names declared with `let`.
 *
 * Throws UnknownParameter for a name that the cell does not declare.
 */
export function withParameters(notebook: Notebook, parameters: Parameters): Notebook {
  const cells = notebook.cells.filter((cell) => !hasTag(cell, injectedTag));
  if (Object.keys(parameters).length === 0) return { ...notebook, cells };
  const at = cells.findIndex((cell) => cell.cell_type === "code" && hasTag(cell, "parameters"));
  const declared = at < 0 ? new Map<string, "let" | "const">() : declaredNames(cells[at]?.source);
  const unknown = Object.keys(parameters).filter((name) => !declared.has(name));
  if (unknown.length > 0) {
    throw new UnknownParameter(unknown.map((name) => unknownText(name, [...declared.keys()])));
  }
  const lines = Object.entries(parameters).map(([name, value]) => {
    const keyword = declared.get(name) === "const" ? "const " : "";
    return `${keyword}${name} = ${JSON.stringify(value)};`;
  });
  const injected = injectedCell(lines.join("\n"), cells);
  return { ...notebook, cells: [...cells.slice(0, at + 1), injected, ...cells.slice(at + 1)] };
}

function unknownText(name: string, declared: readonly string[]): string {
  if (declared.length === 0) {
    return `parameter "${name}": the notebook has no cell tagged "parameters" that declares names`;
  }
  const names = declared.join(", ");
  return `parameter "${name}": must be one that the cell tagged "parameters" declares (${names})`;
}

function injectedCell(source: string, cells: readonly Cell[]): CodeCell {
  const taken = new Set(cells.map((cell) => cell.id));
  let id = injectedTag;
  for (let more = 2; taken.has(id); more++) id = `${injectedTag}-${more}`;
  return {
    cell_type: "code",
    id,
    metadata: { tags: [injectedTag] },
    source,
    execution_count: null,
    outputs: [],
  };
}

function declaredNames(source = ""): Map<string, "let" | "const"> {
  const ts: Ts = loadTypeScript();
  const file = ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022);
  const names = new Map<string, "let" | "const">();
  for (const statement of file.statements) {
    if (!ts.isVariableStatement(statement)) continue;
    const { declarations, flags } = statement.declarationList;
    const keyword = (flags & ts.NodeFlags.Const) === 0 ? "let" : "const";
    for (const { name } of declarations) {
      if (ts.isIdentifier(name)) names.set(name.text, keyword);
    }
  }
  return names;
}
