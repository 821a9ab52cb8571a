import { type Inline, plainText } from "../model/inline.js";
import type { PaperText } from "./paper-text.js";

/** A run of text as the template takes it: a text, or what it is with its parts. */
export type PaperInline =
  | string
  | { readonly mark: string; readonly of: readonly PaperInline[] }
  | { readonly link: string; readonly of: readonly PaperInline[] };

export interface InlineSetting {
  readonly text: PaperText;
  /** The places of the document that a link may lead to. */
  readonly places: ReadonlySet<string>;
}

export function paperInlines(
  content: readonly Inline[],
  setting: InlineSetting,
): readonly PaperInline[] {
  return content.map((inline) => paperInline(inline, setting));
}

/** Links to files beside the document are words; a picture within a line is told by its words. */
function paperInline(inline: Inline, setting: InlineSetting): PaperInline {
  const { text, places } = setting;
  if (typeof inline === "string") return text(inline);
  if (inline.kind === "break") return { mark: "break", of: [] };
  if (inline.kind === "picture") return { mark: "emphasis", of: [text(`[${inline.alt}]`)] };
  const of = paperInlines(inline.content, setting);
  if (inline.kind === "marked") return { mark: inline.mark, of };
  const leads = inline.to.startsWith("#")
    ? places.has(inline.to.slice(1))
    : /^(?:https?:|mailto:)/i.test(inline.to);
  return leads ? { link: inline.to, of } : { mark: "plain", of };
}

/** The words of a content as they are set, for measuring. */
export function setWords(content: readonly Inline[], text: PaperText): string {
  return text(plainText(content));
}
