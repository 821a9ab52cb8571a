import type { MimeBundle } from "./outputs.js";

/** Thrown where what a value shows itself as is no MIME bundle: the fault is the value's own. */
export class NotABundle extends TypeError {
  override readonly name = "NotABundle";
}

const mimeType = /^[\w.+-]+\/[\w.+-]+(;.*)?$/;
/** Contents that are JSON and not text. */
const jsonType = /^application\/json$|\+json(;.*)?$/;

/**
 * A bundle that a value's own method gave, as plain data: texts by MIME type, or JSON for JSON types;
 * a list of texts is joined. Throws NotABundle for anything else.
 */
export function checkedBundle(given: unknown): MimeBundle {
  if (typeof given !== "object" || given === null || Array.isArray(given)) {
    throw new NotABundle(`a display must be an object of MIME types, got ${kindOf(given)}`);
  }
  const entries = Object.entries(given).filter(([, content]) => content !== undefined);
  return Object.fromEntries(entries.map(([type, content]) => [type, checked(type, content)]));
}

/** The same; null where it is no bundle after all. */
export function soundBundle(given: unknown): MimeBundle | null {
  try {
    return checkedBundle(given);
  } catch (error) {
    if (error instanceof NotABundle) return null;
    throw error;
  }
}

/** The list of bundles that a value's own method gave. */
export function checkedBundles(given: unknown): readonly MimeBundle[] {
  if (Array.isArray(given)) return given.map(checkedBundle);
  throw new NotABundle(`displays must be a list of MIME bundles, got ${kindOf(given)}`);
}

function checked(type: string, content: unknown): unknown {
  if (!mimeType.test(type)) {
    const known = 'a MIME type, such as "text/plain"';
    throw new NotABundle(`a display's key must be ${known}, got ${JSON.stringify(type)}`);
  }
  if (jsonType.test(type)) return asJson(type, content);
  if (typeof content === "string") return content;
  const isLines = Array.isArray(content) && content.every((line) => typeof line === "string");
  if (isLines) return content.join("");
  throw new NotABundle(`a display's ${type} must be a text, got ${kindOf(content)}`);
}

function asJson(type: string, content: unknown): unknown {
  let text: string | undefined;
  try {
    text = JSON.stringify(content);
  } catch (error) {
    throw new NotABundle(`a display's ${type} must be JSON`, { cause: error });
  }
  if (text !== undefined) return JSON.parse(text);
  throw new NotABundle(`a display's ${type} must be JSON, got ${kindOf(content)}`);
}

function kindOf(value: unknown): string {
  if (Array.isArray(value)) return "a list";
  if (value === null || value === undefined) return String(value);
  return `a value of type ${typeof value}`;
}
