// The `@example` blocks of the library's documentation comments: read, run, and held to the result
// that stands in their trailing comment.
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import ts from "typescript";
import { repository } from "../banquette.js";

export interface DocExample {
  /** File within the repository, and the name that the comment documents. */
  readonly file: string;
  readonly of: string;
  readonly code: string;
  /** The text of the trailing comment; null where there is none. */
  readonly result: string | null;
  /** Names that the example uses and does not make: exports, globals, or what it takes as given. */
  readonly uses: readonly string[];
  readonly syntaxErrors: readonly string[];
}

export function docExamples(): readonly DocExample[] {
  const lib = join(repository, "lib");
  const files = readdirSync(lib, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".ts"),
  );
  return files.sort().flatMap((name) => examplesIn(join(lib, name)));
}

function examplesIn(path: string): DocExample[] {
  const source = ts.createSourceFile(
    path,
    readFileSync(path, "utf8"),
    ts.ScriptTarget.ES2022,
    true,
  );
  const file = relative(repository, path);
  const found: DocExample[] = [];
  const visit = (node: ts.Node) => {
    for (const tag of ts.getJSDocTags(node)) {
      if (tag.tagName.text !== "example" || tag.parent.parent !== node) continue;
      const text = ts.getTextOfJSDocComment(tag.comment) ?? "";
      const { name } = node as ts.NamedDeclaration;
      found.push({ file, of: name?.getText() ?? "?", ...parsed(text) });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

function parsed(text: string): Omit<DocExample, "file" | "of"> {
  const source = ts.createSourceFile("e.ts", text, ts.ScriptTarget.ES2022, true);
  const { parseDiagnostics } = source as ts.SourceFile & {
    parseDiagnostics: readonly ts.Diagnostic[];
  };
  const end = source.statements.at(-1)?.end ?? 0;
  const comment = text
    .slice(end)
    .split("\n")
    .map((line) => line.replace(/^\s*\/\/\s?/, ""))
    .join("\n")
    .trim();
  return {
    code: text.slice(0, end),
    result: comment === "" ? null : comment,
    uses: freeNames(source),
    syntaxErrors: parseDiagnostics.map((one) =>
      ts.flattenDiagnosticMessageText(one.messageText, "\n"),
    ),
  };
}

function freeNames(source: ts.SourceFile): string[] {
  const made = new Set<string>();
  const used = new Set<string>();
  const visit = (node: ts.Node) => {
    if ((ts.isVariableDeclaration(node) || ts.isParameter(node)) && ts.isIdentifier(node.name)) {
      made.add(node.name.text);
    }
    if (ts.isIdentifier(node) && isUse(node)) used.add(node.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return [...used].filter((name) => !made.has(name));
}

function isUse(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isPropertyAssignment(parent)) return parent.initializer === node;
  return !ts.isParameter(parent) && !ts.isVariableDeclaration(parent)
    ? true
    : parent.initializer === node;
}

/** Runs an example with these names in reach; gives the value of its last expression. */
export async function runExample(
  { code, of }: DocExample,
  names: Readonly<Record<string, unknown>>,
): Promise<unknown> {
  const source = ts.createSourceFile("e.ts", code, ts.ScriptTarget.ES2022, true);
  const last = source.statements.at(-1);
  if (last === undefined || !ts.isExpressionStatement(last)) {
    throw new Error(`${of}: the example must end with an expression`);
  }
  const before = code.slice(0, last.getStart());
  const body = `return (async () => { ${before}\nreturn (${last.expression.getText()}); })()`;
  const { outputText } = ts.transpileModule(body, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  return new Function(...Object.keys(names), outputText)(...Object.values(names));
}

/**
 * What is wrong with a value by the documented result, or null. A result is a literal, of which
 * numbers hold to the digits shown and objects by the properties shown, and may have a remark in
 * brackets after it; "such as" and a literal asks only for the same kind.
 */
export function mismatch(value: unknown, result: string): string | null {
  const [, suchAs, text = ""] = /^(such as )?([\s\S]*)$/.exec(result) ?? [];
  const source = ts.createSourceFile(
    "r.ts",
    `(${withoutRemark(text)})`,
    ts.ScriptTarget.ES2022,
    true,
  );
  const [statement] = source.statements;
  if (statement === undefined || !ts.isExpressionStatement(statement))
    return `not a value: ${text}`;
  const literal = unwrapped(statement.expression);
  if (suchAs !== undefined) {
    const kind = ts.isStringLiteral(literal) ? "string" : "number";
    return typeof value === kind ? null : `is no ${kind}: ${String(value)}`;
  }
  return differs(value, literal, "");
}

function withoutRemark(text: string): string {
  return text.replace(/\s\([^()]*\)$/, "");
}

function unwrapped(node: ts.Expression): ts.Expression {
  return ts.isParenthesizedExpression(node) ? unwrapped(node.expression) : node;
}

function differs(value: unknown, literal: ts.Expression, path: string): string | null {
  const wrong = `${path || "the value"} is ${String(value)}, documented ${literal.getText()}`;
  if (ts.isNumericLiteral(literal) || ts.isPrefixUnaryExpression(literal)) {
    return typeof value === "number" && agrees(value, literal.getText()) ? null : wrong;
  }
  if (ts.isStringLiteral(literal)) return value === literal.text ? null : wrong;
  if (ts.isArrayLiteralExpression(literal)) {
    const list = Array.from(value as ArrayLike<unknown>);
    if (list.length !== literal.elements.length) return `${path} has ${list.length} entries`;
    return firstOf(literal.elements.map((one, at) => differs(list[at], one, `${path}[${at}]`)));
  }
  if (ts.isObjectLiteralExpression(literal)) {
    return firstOf(
      literal.properties.map((property) => {
        if (!ts.isPropertyAssignment(property)) return `not a value: ${property.getText()}`;
        const name = property.name.getText();
        const inner = (value as Readonly<Record<string, unknown>>)[name];
        return differs(inner, property.initializer, `${path}.${name}`);
      }),
    );
  }
  return String(value) === literal.getText() ? null : wrong;
}

function firstOf(faults: readonly (string | null)[]): string | null {
  return faults.find((fault) => fault !== null) ?? null;
}

// To the digits shown: half a unit of the last one, and a hair for the binary form of both.
function agrees(value: number, shown: string): boolean {
  const [digits = "", exponent = "0"] = shown.toLowerCase().split("e");
  const decimals = digits.split(".")[1]?.length ?? 0;
  const half = 0.5 * 10 ** (Number(exponent) - decimals);
  return Math.abs(value - Number(shown)) <= half * (1 + 1e-9) + 1e-15 * Math.abs(value);
}
