import type { AppendixDocument } from "./model/appendix-document.js";
import { type AppendixOptions, givenDocument } from "./model/document-of.js";
import type { AppendixNotebook } from "./model/notebook.js";
import { compiled, NoPaper } from "./pdf/compile.js";
import { manuscript } from "./pdf/manuscript.js";

/** The paper, or why there is none. */
export type AppendixPaper =
  | { readonly pdf: Uint8Array; readonly missing: null }
  | { readonly pdf: null; readonly missing: string };

/**
 * An executed notebook as a PDF for the record, of the same document as `renderAppendix`: numbered
 * sections, figures and tables, running heads, what was found in front, and in annexes all cautions,
 * how each step was done, sources and, where it is given, provenance. Words are set as text, whatever
 * they hold. Wide tables stand on turned pages or in parts. Code is left to the notebook. The same
 * notebook gives the same bytes; a letter that the paper's font does not draw stands as its code
 * point.
 *
 * @param given an nbformat 4.5 notebook, or the document that `appendixDocument` made of one
 * @param options title; the content of provenance.json; of no effect on a document
 * @returns the PDF; where the compiler has no build for this machine, in words why there is none
 */
export async function renderAppendixPdf(
  given: AppendixNotebook | AppendixDocument,
  options: AppendixOptions = {},
): Promise<AppendixPaper> {
  try {
    return { pdf: await compiled(manuscript(givenDocument(given, options))), missing: null };
  } catch (error) {
    if (!(error instanceof NoPaper)) throw error;
    return { pdf: null, missing: error.message };
  }
}
