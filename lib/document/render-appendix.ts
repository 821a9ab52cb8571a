import { pageHtml } from "./html/page-html.js";
import type { AppendixDocument } from "./model/appendix-document.js";
import { type AppendixOptions, givenDocument } from "./model/document-of.js";
import type { AppendixNotebook } from "./model/notebook.js";

/**
 * An executed notebook as one self-contained HTML file for screen and A4 paper. It works offline
 * and asks for nothing: drawings, their data and the code that makes them answer to the pointer are
 * all inside. Every output is shown in its richest form, errors and streams included; sections,
 * figures and tables are numbered; the code of each cell is folded under its outputs; cautions,
 * sources and, where it is given, provenance are listed at the end.
 * The first heading of level 1 becomes the title; the results of cells tagged "title-block" stand
 * under it, those of cells tagged "in-brief" in front. Raw HTML in markdown is shown as text, and HTML
 * outputs are cleaned of scripts, style sheets and anything that would load. The same notebook gives the same text.
 *
 * @param given an nbformat 4.5 notebook (cells that have not run are said to have not run), or the
 *   document that `appendixDocument` made of one
 * @param options title; the content of provenance.json; of no effect on a document
 * @returns the HTML document
 * @example renderAppendix({ metadata: {}, cells: [] }).startsWith("<!doctype html>") // true
 */
export function renderAppendix(
  given: AppendixNotebook | AppendixDocument,
  options: AppendixOptions = {},
): string {
  return pageHtml(givenDocument(given, options));
}
