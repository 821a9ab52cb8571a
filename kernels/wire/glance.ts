import type { Runtime } from "node:inspector";
import { inspect } from "node:util";
import { asWritten, isMarked } from "../session/cell/marked-names.js";
import { valueText } from "./debug/debug-values.js";
import { MainInspector } from "./debug/main-inspector.js";

/** Time that V8 has to answer, ms: it takes no request within a call of the system. */
const answerWithin_ms = 500;
const objectGroup = "banquette-glance";

/** What in brackets is an expression and in a cell something else: a declaration, a block; or may be. */
const notExpression = /^\s*(?:[{/]|(?:async|class|function|let)\b)/;

/** What an expression was worth; `text` is null for `undefined`. */
export interface Glance {
  readonly text: string | null;
}

/**
 * The value of an expression in the scope of all cells, taken in the middle of what the main thread
 * computes. V8 evaluates it there only as far as it changes nothing (`throwOnSideEffect`). Null where it
 * would change something, is no plain JavaScript expression, throws, or names what cells have bound
 * apart from a global.
 */
export async function glanceAt(code: string): Promise<Glance | null> {
  if (notExpression.test(code)) return null;
  const inspector = new MainInspector();
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), answerWithin_ms);
  });
  try {
    return await Promise.race([evaluated(inspector, code).catch(() => null), late]);
  } finally {
    clearTimeout(timer);
    inspector.close();
  }
}

async function evaluated(inspector: MainInspector, code: string): Promise<Glance | null> {
  const { names } = await inspector.post<Runtime.GlobalLexicalScopeNamesReturnType>(
    "Runtime.globalLexicalScopeNames",
  );
  const apart = new Set(names.filter(isMarked).map(asWritten));
  if ((code.match(/[\p{ID_Continue}$]+/gu) ?? []).some((name) => apart.has(name))) return null;
  const options = { throwOnSideEffect: true, silent: true, generatePreview: true, objectGroup };
  const { result, exceptionDetails } = await inspector.post<Runtime.EvaluateReturnType>(
    "Runtime.evaluate",
    { expression: `(${code}\n)`, ...options },
  );
  if (exceptionDetails !== undefined) return null;
  if (result.type === "undefined") return { text: null };
  // As the session shows it; of what has parts, as much as V8 tells of them.
  const isPlain = result.objectId === undefined && result.unserializableValue === undefined;
  return { text: isPlain ? inspect(result.value) : valueText(result) };
}
