import type { Runtime } from "node:inspector";
import { inspect } from "node:util";
import { asWritten, isMarked } from "../session/cell/marked-names.js";
import { soundBundle } from "../session/show/checked-bundle.js";
import type { MimeBundle } from "../session/show/outputs.js";
import { valueText } from "./debug/debug-values.js";
import { MainInspector } from "./debug/main-inspector.js";

/** Time that V8 has to answer, ms: it takes no request within a call of the system. */
const answerWithin_ms = 500;
const objectGroup = "banquette-glance";

/** What in brackets is an expression and in a cell something else: a declaration, a block; or may be. */
const notExpression = /^\s*(?:[{/]|(?:async|class|function|let)\b)/;

/** How an expression's value is shown; `data` is null for `undefined`. */
export interface Glance {
  readonly data: MimeBundle | null;
}

/** Called on a value with the symbol of the open display convention: what it shows itself as. */
const displayOf = `function (convention) {
  const show = this[convention];
  return typeof show === "function" ? show.call(this) : null;
}`;

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
  if (result.type === "undefined") return { data: null };
  // As the session shows it; of what has parts, as much as V8 tells of them.
  const isPlain = result.objectId === undefined && result.unserializableValue === undefined;
  const text = isPlain ? inspect(result.value) : valueText(result);
  return { data: { "text/plain": text, ...(await ownBundle(inspector, result)) } };
}

/** What the value's own method gives, where that changes nothing either; null where it has none. */
async function ownBundle(
  inspector: MainInspector,
  { objectId }: Runtime.RemoteObject,
): Promise<MimeBundle | null> {
  if (objectId === undefined) return null;
  // V8 takes `Symbol.for` itself for a change.
  const { result: convention } = await inspector.post<Runtime.EvaluateReturnType>(
    "Runtime.evaluate",
    { expression: 'Symbol.for("Jupyter.display")', objectGroup },
  );
  const given = [{ objectId: convention.objectId }];
  const options = { throwOnSideEffect: true, silent: true, returnByValue: true };
  const { result, exceptionDetails } = await inspector.post<Runtime.CallFunctionOnReturnType>(
    "Runtime.callFunctionOn",
    { objectId, functionDeclaration: displayOf, arguments: given, ...options },
  );
  return exceptionDetails === undefined ? soundBundle(result.value) : null;
}
