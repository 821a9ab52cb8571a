export interface CautionEntry {
  readonly id: string;
  /** Text of the section that it stands in, safe as HTML. */
  readonly section: string;
  /** Inner HTML of the caution's sentences, already safe. */
  readonly html: string;
}

/**
 * Gives every box of cautions in an output an id and returns what it says, so that the page can
 * list all cautions by section.
 */
export function markCautions(
  html: string,
  { nextId, section }: { readonly nextId: () => string; readonly section: string },
): { readonly html: string; readonly cautions: readonly CautionEntry[] } {
  const cautions: CautionEntry[] = [];
  const marked = html.replace(
    /<div class="bq-caution"([^>]*)>([\s\S]*?)<\/div>/g,
    (_, attributes: string, inner: string) => {
      const id = nextId();
      const sentences = /<p>(?:<strong>Caution\.<\/strong>\s*)?([\s\S]*?)<\/p>/g;
      for (const [, sentence = ""] of inner.matchAll(sentences)) {
        cautions.push({ id, section, html: sentence });
      }
      return `<div class="bq-caution" id="${id}"${attributes}>${inner}</div>`;
    },
  );
  return { html: marked, cautions };
}
