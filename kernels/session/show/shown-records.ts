import type { MimeBundle } from "./outputs.js";

const recordOf = Symbol.for("banquette.record");
const noticesOf = Symbol.for("banquette.notices");

/**
 * What a notebook has put on the record so far by showing it: a value that answers to
 * `Symbol.for("banquette.record")` gives its record under a name, a later one of the same name in its
 * place; a value that answers to `Symbol.for("banquette.notices")` is asked what it has to say in the
 * light of them.
 */
export class ShownRecords {
  readonly #records = new Map<string, unknown>();

  /** Keeps the record of a value that is shown, and gives what it has to say; null for nothing. */
  noticeOf(value: unknown): MimeBundle | null {
    const record = answerOf(value, recordOf) as { readonly name: string } | undefined;
    if (record !== undefined) this.#records.set(record.name, record);
    const said = answerOf(value, noticesOf, [...this.#records.values()]);
    return Array.isArray(said) && said.length > 0 ? bundleOf(said.map(String)) : null;
  }
}

function answerOf(value: unknown, symbol: symbol, ...args: readonly unknown[]): unknown {
  if (typeof value !== "object" || value === null) return undefined;
  const method = (value as Record<symbol, unknown>)[symbol];
  return typeof method === "function" ? method.apply(value, args) : undefined;
}

function bundleOf(sentences: readonly string[]): MimeBundle {
  const items = sentences.map((text) => `<p><strong>On the record.</strong> ${htmlOf(text)}</p>`);
  return {
    "text/plain": sentences.map((text) => `On the record: ${text}`).join("\n"),
    "text/html": `<div class="bq-caution" role="note">${items.join("\n")}</div>`,
  };
}

function htmlOf(text: string): string {
  return text.replace(/[&<>]/g, (one) => `&#${one.charCodeAt(0)};`);
}
