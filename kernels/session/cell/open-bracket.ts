import type TypeScript from "typescript";
import { loadTypeScript, type Ts } from "../types/typescript.js";

/** A bracket that nothing has closed yet; line and column count from 0. */
export interface OpenBracket {
  readonly bracket: string;
  readonly line: number;
  readonly column: number;
}

/** The innermost bracket of a text that is open before a place; null for none. */
export function openBracketBefore(source: string, end: number): OpenBracket | null {
  const ts = loadTypeScript();
  const scanner = ts.createScanner(ts.ScriptTarget.ES2022, true, undefined, source);
  const open: { readonly text: string; readonly at: number }[] = [];
  let before = ts.SyntaxKind.Unknown;
  for (let token = scanner.scan(); token !== ts.SyntaxKind.EndOfFileToken; token = scanner.scan()) {
    if (scanner.getTokenPos() >= end) break;
    before = step(ts, scanner, open, before);
  }
  const last = open.at(-1);
  if (last === undefined) return null;
  const lines = source.slice(0, last.at).split("\n");
  return { bracket: last.text, line: lines.length - 1, column: lines.at(-1)?.length ?? 0 };
}

type Open = { readonly text: string; readonly at: number }[];

// Takes one token; gives its kind as it is read within what is open.
function step(
  ts: Ts,
  scanner: TypeScript.Scanner,
  open: Open,
  before: TypeScript.SyntaxKind,
): TypeScript.SyntaxKind {
  const { SyntaxKind: kinds } = ts;
  const at = scanner.getTokenPos();
  let token = scanner.getToken();
  if (token === kinds.SlashToken && !endsValue(ts, before)) token = scanner.reScanSlashToken();
  if (token === kinds.CloseBraceToken && open.at(-1)?.text === "${") {
    open.pop();
    token = scanner.reScanTemplateToken(false);
  }
  if (token === kinds.TemplateHead || token === kinds.TemplateMiddle) {
    open.push({ text: "${", at: scanner.getTextPos() - 2 });
  } else if ("([{".includes(scanner.getTokenText()))
    open.push({ text: scanner.getTokenText(), at });
  else if (scanner.getTokenText() === opposite[open.at(-1)?.text ?? ""]) open.pop();
  return token;
}

const opposite: Readonly<Record<string, string>> = { "(": ")", "[": "]", "{": "}" };

function endsValue(ts: Ts, token: TypeScript.SyntaxKind): boolean {
  const { SyntaxKind: kinds } = ts;
  return (
    token === kinds.Identifier ||
    token === kinds.NumericLiteral ||
    token === kinds.StringLiteral ||
    token === kinds.CloseParenToken ||
    token === kinds.CloseBracketToken ||
    token === kinds.CloseBraceToken
  );
}
