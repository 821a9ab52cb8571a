import type { AppendixDocument, Part } from "./appendix-document.js";
import { type Block, everyBlock, type Heading } from "./block.js";
import { blocksOf } from "./blocks-of.js";
import { type CautionEntry, cautionSections } from "./cautions.js";
import { withDecisionTitles } from "./decision-titles.js";
import { withFindingsListed } from "./findings-list.js";
import { type Inline, plainText } from "./inline.js";
import { renderMarkdown } from "./markdown.js";
import { type AppendixCell, type AppendixNotebook, wholeText } from "./notebook.js";
import { type Numbers, newNumbers, numbered } from "./numbered.js";
import { outputBlocks } from "./output-blocks.js";
import { provenanceBlocks, type RunRecord } from "./provenance-blocks.js";
import { sourcesOf } from "./sources.js";
import { stepPlaces, withPlaces } from "./step-places.js";

export interface AppendixOptions {
  /** Title of the document; default: the notebook's first heading, or "Technical appendix". */
  readonly title?: string;
  /** The content of provenance.json, for an annex of its own; default: none. */
  readonly provenance?: RunRecord;
}

/** The document itself, or that of a notebook. */
export function givenDocument(
  given: AppendixNotebook | AppendixDocument,
  options: AppendixOptions,
): AppendixDocument {
  return "cells" in given ? appendixDocument(given, options) : given;
}

/**
 * An executed notebook as the document that page and paper are made from: titled, numbered, its
 * cautions and sources gathered.
 *
 * @param notebook an nbformat 4.5 notebook
 * @param options title; the content of provenance.json
 * @returns the document, plain data
 * @example appendixDocument({ metadata: {}, cells: [] }).title // "Technical appendix"
 */
export function appendixDocument(
  notebook: AppendixNotebook,
  { title, provenance }: AppendixOptions = {},
): AppendixDocument {
  const cells = cellsInWords(numberedCells(notebook));
  const at = (place: Place) =>
    cells.filter((cell) => cell.place === place).flatMap(({ part }) => part.blocks);
  const shown = cells.map(({ part, place }) => movedPart(part, place));
  const titled = takeTitle(shown);
  const body = titled.parts;
  const all = [...at("in-brief"), ...shown.flatMap(({ blocks }) => blocks)];
  const every = everyBlock(all);
  const figures = every.filter((block) => block.kind === "figure" && block.number > 0);
  const heading = titled.heading;
  return {
    title: title ?? (heading === null ? "Technical appendix" : plainText(heading.content)),
    titleContent: heading?.content ?? [title ?? "Technical appendix"],
    titleBlock: at("title-block").filter(({ kind }) => kind !== "code"),
    inBrief: withFindingsListed(at("in-brief")),
    intro: titled.intro,
    body,
    headings: headingsIn([...titled.intro, ...body.flatMap(({ blocks }) => blocks)]),
    figures: figures as AppendixDocument["figures"],
    cautions: cautionSections(cautionsIn(at("in-brief"), body)),
    sources: sourcesOf(all),
    provenance: provenance === undefined ? [] : provenanceBlocks(provenance),
  };
}

/** Where a cell stands: at the head or the front by its tag, else in its own place. */
type Place = "title-block" | "in-brief" | "own";

interface PlacedPart {
  readonly place: Place;
  readonly part: Part;
}

/** The cells in their order; what stands in front takes the first numbers. */
function numberedCells({ cells }: AppendixNotebook): readonly PlacedPart[] {
  const placed = cells.map((cell) => ({ place: placeOf(cell), part: partOf(cell) }));
  const numbers = newNumbers(headingsIn(placed.flatMap(({ part }) => part.blocks)));
  const front = placed.map((cell) => (cell.place === "in-brief" ? inOrder(cell, numbers) : null));
  return placed.map((cell, i) => front[i] ?? inOrder(cell, numbers));
}

/** Steps that tables name by the sections that they stand in; decisions in words. */
function cellsInWords(cells: readonly PlacedPart[]): readonly PlacedPart[] {
  const places = stepPlaces(cells.flatMap(({ part }) => part.blocks));
  return cells.map(({ place, part }) => ({
    place,
    part: { ...part, blocks: withDecisionTitles(withPlaces(part.blocks, places)) },
  }));
}

function inOrder({ place, part }: PlacedPart, numbers: Numbers): PlacedPart {
  return { place, part: { ...part, blocks: numbered(part.blocks, numbers) } };
}

function placeOf(cell: AppendixCell): Place {
  const tags = cell.metadata?.tags;
  if (cell.cell_type !== "code" || !Array.isArray(tags)) return "own";
  if (tags.includes("title-block")) return "title-block";
  return tags.includes("in-brief") ? "in-brief" : "own";
}

function partOf(cell: AppendixCell): Part {
  if (cell.cell_type === "raw") return { role: "words", blocks: [] };
  const source = wholeText(cell.source);
  if (cell.cell_type === "markdown") {
    const { attachments = {} } = cell;
    return { role: "words", blocks: blocksOf(renderMarkdown(source, { attachments })) };
  }
  const outputs = (cell.outputs ?? []).flatMap(outputBlocks);
  return { role: outputs.length === 0 ? "silent" : "cell", blocks: [...outputs, ...codeOf(cell)] };
}

function codeOf({ source, execution_count }: AppendixCell): readonly Block[] {
  const text = wholeText(source).trimEnd();
  return text.trim() === "" ? [] : [{ kind: "code", text, cell: execution_count ?? null }];
}

/** What stands in place of a cell whose result was moved. */
function movedPart(part: Part, place: Place): Part {
  if (place === "own") return part;
  if (place === "title-block") return { role: "silent", blocks: [] };
  const content: readonly Inline[] = [
    "This cell's result stands at the front, under ",
    { kind: "link", to: "#in-brief", content: ["In brief"] },
    ".",
  ];
  return { role: "cell", blocks: [{ kind: "paragraph", role: "plain", content }] };
}

/** The first heading of depth 1 leaves its cell; what it leaves is the introduction. */
function takeTitle(parts: readonly Part[]) {
  const isTitle = (block: Block): block is Heading => block.kind === "heading" && block.depth === 1;
  const at = parts.findIndex(({ blocks }) => blocks.some(isTitle));
  const part = parts[at];
  const heading = part?.blocks.find(isTitle);
  if (part === undefined || heading === undefined) return { heading: null, intro: [], parts };
  const rest = { ...part, blocks: part.blocks.filter((block) => block !== heading) };
  const others = parts.filter((_, i) => i !== at);
  if (at === 0) return { heading, intro: rest.blocks, parts: others };
  return { heading, intro: [], parts: parts.map((one, i) => (i === at ? rest : one)) };
}

function headingsIn(blocks: readonly Block[]): readonly Heading[] {
  return everyBlock(blocks).filter(
    (block): block is Heading =>
      block.kind === "heading" && (block.depth === 2 || block.depth === 3),
  );
}

function cautionsIn(
  inBrief: readonly Block[],
  body: AppendixDocument["body"],
): readonly CautionEntry[] {
  let section = "In brief";
  const blocks = everyBlock([...inBrief, ...body.flatMap((part) => part.blocks)]);
  return blocks.flatMap((block) => {
    if (block.kind === "heading" && block.depth === 2) section = headingText(block);
    if (block.kind !== "caution") return [];
    return block.sentences.map((content) => ({ id: block.id, section, content }));
  });
}

/** A heading with its number, as it is read. */
export function headingText({ number, content }: Heading): string {
  return `${number} ${plainText(content)}`.trim();
}
