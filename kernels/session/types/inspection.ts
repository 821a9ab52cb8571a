import type TypeScript from "typescript";
import { compilerText } from "../cell/cell-text.js";
import { earlierNamed } from "../cell/marked-names.js";
import type { MimeBundle } from "../show/outputs.js";
import { importLine, libraryNames } from "./exported-names.js";
import { type Converter, loadTypeScript } from "./typescript.js";

export interface Inspection {
  readonly found: boolean;
  /** Signature and documentation as text/markdown and text/plain; empty where nothing is found. */
  readonly data: MimeBundle;
}

interface Inspected {
  readonly code: string;
  readonly cursor: number;
  /** The text to show of a name beside its documentation; null for none. */
  readonly textOf: (name: string) => string | null;
  /** What more there is to say of a name, in lines; null for nothing. */
  readonly moreOf: (name: string) => string | null;
}

/** The name at the cursor, before it, or whose call the cursor is in: signature and documentation. */
export function inspect(
  converter: Converter,
  declarations: string,
  { code, cursor, textOf, moreOf }: Inspected,
): Inspection {
  const text = compilerText(code);
  const at = Math.min(Math.max(0, Math.trunc(cursor) || 0), code.length);
  for (const place of places(text, at)) {
    const name = nameAt(text, place);
    const info =
      quickInfo(converter, declarations, { text, place }) ??
      notImported(converter, declarations, name);
    if (info === null) continue;
    return { found: true, data: bundle(info, { text: textOf(name), more: moreOf(name) }) };
  }
  return { found: false, data: {} };
}

const inName = /[\p{ID_Continue}$]/u;

function nameAt(text: string, place: number): string {
  const before = /[\p{ID_Continue}$]*$/u.exec(text.slice(0, place))?.[0] ?? "";
  const after = /^[\p{ID_Continue}$]*/u.exec(text.slice(place))?.[0] ?? "";
  return before + after;
}

// Where to look, in turn.
function places(text: string, cursor: number): number[] {
  const here = inName.test(text.charAt(cursor)) ? [cursor] : [];
  const before = inName.test(text.charAt(cursor - 1)) ? [cursor - 1] : [];
  return [...here, ...before, ...calledAround(text, cursor)];
}

// The last character of each name whose call or construction the cursor is in, innermost first.
function calledAround(text: string, cursor: number): number[] {
  const ts = loadTypeScript();
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.ES2022, true);
  const found: number[] = [];
  const visit = (node: TypeScript.Node): void => {
    if (cursor < node.pos || cursor > openEnd(text, node)) return;
    if (ts.isCallExpression(node) || ts.isNewExpression(node)) {
      const opens = text.indexOf("(", node.typeArguments?.end ?? node.expression.end);
      const inside = opens >= 0 && cursor > opens && opens < openEnd(text, node);
      if (inside) found.unshift(node.expression.end - 1);
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

// A call that nothing closes goes on over the blanks behind it.
function openEnd(text: string, { end }: TypeScript.Node): number {
  if (/[)\]};]/.test(text.charAt(end - 1))) return end;
  return end + (/^\s*/.exec(text.slice(end))?.[0].length ?? 0);
}

// A name of the library that no cell has imported yet, with the line that imports it.
function notImported(
  converter: Converter,
  declarations: string,
  name: string,
): TypeScript.QuickInfo | null {
  if (!libraryNames().has(name)) return null;
  const text = `${importLine(name)}\n${name}`;
  const info = quickInfo(converter, declarations, { text, place: text.length - 1 });
  if (info === null) return null;
  const first = { text: `Not imported here yet: ${importLine(name)}\n\n`, kind: "text" };
  return { ...info, documentation: [first, ...(info.documentation ?? [])] };
}

function quickInfo(
  converter: Converter,
  declarations: string,
  { text, place }: { readonly text: string; readonly place: number },
): TypeScript.QuickInfo | null {
  try {
    const info = converter.inspect(declarations, text, place);
    const said = joined(info?.displayParts);
    // Of a name that nothing declares, it says that it is `any`.
    return said === "" || (said === "any" && info?.kind === "") ? null : (info ?? null);
  } catch {
    return null;
  }
}

interface Beside {
  readonly text: string | null;
  readonly more: string | null;
}

function bundle(info: TypeScript.QuickInfo, { text, more }: Beside): MimeBundle {
  const signature = earlierNamed(joined(info.displayParts));
  const documentation = joined(info.documentation);
  const tags = info.tags ?? [];
  const markdown = [
    `\`\`\`typescript\n${signature}\n\`\`\``,
    documentation,
    ...tags.map(tagMarkdown),
    ...(more === null ? [] : [more.replaceAll("\n", "\n- ")]),
    ...(text === null ? [] : [`\`\`\`typescript\n${text}\n\`\`\``]),
  ];
  const plain = [signature, documentation, ...tags.map(tagPlain), more ?? "", text ?? ""];
  const paragraphs = (parts: readonly string[]) => parts.filter((part) => part !== "").join("\n\n");
  return { "text/markdown": paragraphs(markdown), "text/plain": paragraphs(plain) };
}

function joined(parts: readonly TypeScript.SymbolDisplayPart[] | undefined): string {
  return (parts ?? []).map((part) => part.text).join("");
}

function tagPlain(tag: TypeScript.JSDocTagInfo): string {
  return `@${tag.name} ${joined(tag.text)}`.trim();
}

function tagMarkdown(tag: TypeScript.JSDocTagInfo): string {
  const text = joined(tag.text);
  if (tag.name !== "example") return `*@${tag.name}* ${text}`.trim();
  return text.includes("```") ? `*@example*\n\n${text}` : `\`\`\`typescript\n${text}\n\`\`\``;
}
