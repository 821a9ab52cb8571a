import type TypeScript from "typescript";
import { readOptionLines } from "../session/cell/option-lines.js";
import { loadTypeScript, type Ts } from "../session/types/typescript.js";
import { type Cell, type CodeCell, hasTag, type Notebook } from "./notebook.js";
import { UnknownParameter } from "./notebook-fault.js";

/** Values for the names that a notebook's cell tagged `parameters` declares. */
export type Parameters = Readonly<Record<string, unknown>>;

export const injectedTag = "injected-parameters";

/**
 * The notebook with a cell after the one tagged `parameters` that gives the names their new values;
 * an injected cell of an earlier run is replaced. A value must be of the declared type, which the
 * type check of the injected cell sees to: that of a `let`, the written type of a `const`, or the
 * kind of its literal (a text, a number, true or false).
 *
 * Throws UnknownParameter for a name that the cell does not declare.
 */
export function withParameters(notebook: Notebook, parameters: Parameters): Notebook {
  const cells = notebook.cells.filter((cell) => !hasTag(cell, injectedTag));
  if (Object.keys(parameters).length === 0) return { ...notebook, cells };
  const at = cells.findIndex((cell) => cell.cell_type === "code" && hasTag(cell, "parameters"));
  const declared = at < 0 ? new Map<string, string>() : declaredNames(cells[at]?.source);
  const unknown = Object.keys(parameters).filter((name) => !declared.has(name));
  if (unknown.length > 0) {
    throw new UnknownParameter(unknown.map((name) => unknownText(name, [...declared.keys()])));
  }
  const lines = Object.entries(parameters).map(
    ([name, value]) => `${declared.get(name)} = ${literal(value)};`,
  );
  const injected = injectedCell(lines.join("\n"), cells);
  return { ...notebook, cells: [...cells.slice(0, at + 1), injected, ...cells.slice(at + 1)] };
}

// JSON has no NaN and no infinities.
function literal(value: unknown): string {
  return typeof value === "number" ? String(value) : JSON.stringify(value);
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

/** Name → what an assignment of the injected cell begins with. */
function declaredNames(source = ""): ReadonlyMap<string, string> {
  const ts: Ts = loadTypeScript();
  const { code } = readOptionLines(source);
  const file = ts.createSourceFile("cell.ts", code, ts.ScriptTarget.ES2022);
  const heads = file.statements.filter(ts.isVariableStatement).flatMap(({ declarationList }) => {
    const constant = (declarationList.flags & ts.NodeFlags.Const) !== 0;
    return declarationList.declarations.flatMap((declaration) =>
      boundNames(ts, declaration.name).map((name) => {
        const type = constant ? writtenType(ts, declaration, file) : "";
        return [name, constant ? `const ${name}${type}` : name] as const;
      }),
    );
  });
  return new Map(heads);
}

function boundNames(ts: Ts, name: TypeScript.BindingName): string[] {
  if (ts.isIdentifier(name)) return [name.text];
  return name.elements.flatMap((element) =>
    ts.isBindingElement(element) ? boundNames(ts, element.name) : [],
  );
}

// The type of a constant cannot name the constant itself, as an assignment to a variable does.
function writtenType(
  ts: Ts,
  { name, type, initializer }: TypeScript.VariableDeclaration,
  file: TypeScript.SourceFile,
): string {
  if (!ts.isIdentifier(name)) return "";
  if (type !== undefined) return `: ${type.getText(file)}`;
  if (initializer === undefined) return "";
  const signed = ts.isPrefixUnaryExpression(initializer) ? initializer.operand : initializer;
  const value = ts.isNumericLiteral(signed) ? signed : initializer;
  if (ts.isNumericLiteral(value)) return ": number";
  if (ts.isStringLiteralLike(value) || ts.isTemplateExpression(value)) return ": string";
  const { TrueKeyword, FalseKeyword } = ts.SyntaxKind;
  return value.kind === TrueKeyword || value.kind === FalseKeyword ? ": boolean" : "";
}
