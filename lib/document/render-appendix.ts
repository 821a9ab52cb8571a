import { zipped } from "../numerics/arrays.js";
import { escapeHtml } from "../step/show/html.js";
import { type CautionEntry, markCautions } from "./cautions.js";
import { codeHtml } from "./code-html.js";
import type { NumberedFigure } from "./figure-html.js";
import { type Heading, renderMarkdown } from "./markdown.js";
import { type AppendixCell, type AppendixNotebook, wholeText } from "./notebook.js";
import { outputHtml } from "./output-html.js";
import { pageHtml } from "./page-html.js";

export interface AppendixOptions {
  /** Title of the page; default: the notebook's first heading, or "Technical appendix". */
  readonly title?: string;
}

/**
 * An executed notebook as one self-contained HTML file for screen and A4 paper. It works offline
 * and asks for nothing: drawings, their data and the code that makes them answer to the pointer are
 * all inside. Every output is shown in its richest form, errors and streams included; figures are
 * numbered; the code of each cell is folded under its outputs; all cautions are listed at the end.
 * The first heading of level 1 becomes the title; the results of cells tagged "title-block" stand
 * under it, those of cells tagged "in-brief" in front. Raw HTML in markdown is shown as text, and HTML outputs are cleaned of scripts, style
 * sheets and anything that would load. The same notebook gives the same text.
 *
 * @param notebook an nbformat 4.5 notebook; cells that have not run are said to have not run
 * @param options title
 * @returns the HTML document
 * @example renderAppendix({ metadata: {}, cells: [] }).startsWith("<!doctype html>") // true
 */
export function renderAppendix(notebook: AppendixNotebook, options: AppendixOptions = {}): string {
  const page = newPage();
  const cells = cellsHtml(notebook, page);
  const placed = cells.map(({ html, place }) => moved[place] ?? html);
  const at = (asked: Place) =>
    cells.flatMap(({ html, place }) => (place === asked ? [html] : [])).join("\n");
  const titled = takeTitle(placed, page.headings);
  return pageHtml({
    title: options.title ?? titled.title ?? "Technical appendix",
    heading: titled.html,
    intro: titled.cells[0] ?? "",
    titleBlock: at("title-block"),
    inBrief: at("in-brief"),
    body: titled.cells.slice(1).join("\n"),
    headings: page.headings.filter(({ depth }) => depth === 2 || depth === 3),
    figures: page.figures,
    cautions: page.cautions,
  });
}

/** The cells as HTML, in their order; what stands in front takes the first numbers. */
function cellsHtml({ cells }: AppendixNotebook, page: Page) {
  const places = cells.map(placeOf);
  const inFront = cells.map((cell, i) => (places[i] === "in-brief" ? cellHtml(cell, page) : null));
  return zipped(cells, zipped(places, inFront)).map(([cell, [place, html]]) => ({
    html: html ?? cellHtml(cell, page),
    place,
  }));
}

/** Where a cell stands: at the head or the front of the page by its tag, else in its own place. */
type Place = "title-block" | "in-brief" | "own";

function placeOf(cell: AppendixCell): Place {
  const tags = cell.metadata?.tags;
  if (cell.cell_type !== "code" || !Array.isArray(tags)) return "own";
  if (tags.includes("title-block")) return "title-block";
  return tags.includes("in-brief") ? "in-brief" : "own";
}

/** What stands in place of a cell whose result was moved. */
const moved: Readonly<Partial<Record<Place, string>>> = {
  "title-block": "",
  "in-brief":
    '<section class="cell"><p>This cell\'s result stands at the front, under ' +
    '<a href="#in-brief">In brief</a>.</p></section>',
};

/** What accumulates over the page. */
interface Page {
  readonly headings: Heading[];
  readonly figures: NumberedFigure[];
  readonly cautions: CautionEntry[];
  readonly newId: (text: string) => string;
}

function newPage(): Page {
  const taken = new Set<string>();
  const newId = (text: string) => {
    const stem =
      text
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, "-")
        .replace(/^-|-$/g, "") || "part";
    let id = stem;
    for (let n = 2; taken.has(id); n++) id = `${stem}-${n}`;
    taken.add(id);
    return id;
  };
  return { headings: [], figures: [], cautions: [], newId };
}

function cellHtml(cell: AppendixCell, page: Page): string {
  if (cell.cell_type === "raw") return "";
  if (cell.cell_type === "code") return codeCellHtml(cell, page);
  const attachments = cell.attachments ?? {};
  const { newId } = page;
  const { html, headings } = renderMarkdown(wholeText(cell.source), { attachments, newId });
  page.headings.push(...headings);
  return `<section class="words">${html}</section>`;
}

function codeCellHtml(cell: AppendixCell, page: Page): string {
  const source = wholeText(cell.source);
  if (source.trim() === "" && (cell.outputs ?? []).length === 0) return "";
  const numbers = { nextFigure: () => page.figures.length + 1, newId: page.newId };
  const outputs = (cell.outputs ?? []).map((output) => {
    const { html, figure } = outputHtml(output, numbers);
    if (figure !== null) page.figures.push(figure);
    const section = page.headings.findLast(({ depth }) => depth === 2)?.text ?? "In brief";
    const marked = markCautions(html, {
      nextId: () => page.newId("caution"),
      section: escapeHtml(section),
    });
    page.cautions.push(...marked.cautions);
    return marked.html;
  });
  const silent = outputs.length === 0 ? " silent" : "";
  const code = codeHtml(source, cell.execution_count ?? null);
  return `<section class="cell${silent}">${outputs.join("\n")}\n${code}</section>`;
}

/** The first level-1 heading moves from its cell into the page's title block. */
function takeTitle(cells: readonly string[], headings: readonly Heading[]) {
  const first = headings.find(({ depth }) => depth === 1);
  const pattern = new RegExp(`<h1 id="${first?.id}">[\\s\\S]*?</h1>\\n?`);
  const found = cells.map((cell) => pattern.exec(cell)?.[0]);
  const at = found.findIndex((html) => html !== undefined);
  const html = found[at];
  if (first === undefined || html === undefined) {
    return { title: null, html: "", cells: ["", ...cells] };
  }
  const rest = cells.map((cell, i) => (i === at ? cell.replace(html, "") : cell));
  return { title: first.text, html, cells: at === 0 ? rest : ["", ...rest] };
}
