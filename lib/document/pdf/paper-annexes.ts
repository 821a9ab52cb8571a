import type { AppendixDocument } from "../model/appendix-document.js";
import {
  type Block,
  everyBlock,
  type Folded,
  type Heading,
  type TableBlock,
} from "../model/block.js";
import { type CautionEntry, cautionsCount } from "../model/cautions.js";
import { headingText } from "../model/document-of.js";
import { type Inline, plainText } from "../model/inline.js";

/** What stands after the body, each under a letter of its own. */
export interface PaperAnnex {
  readonly id: string;
  readonly heading: string;
  readonly blocks: readonly Block[];
}

/** The annexes that have something to tell. */
export function paperAnnexes(document: AppendixDocument): readonly PaperAnnex[] {
  return [
    { id: "all-cautions", heading: "All cautions", blocks: cautionBlocks(document) },
    { id: "how", heading: "How each step was done", blocks: howBlocks(document) },
    { id: "all-sources", heading: "Sources", blocks: sourceBlocks(document) },
    { id: "provenance", heading: "Provenance", blocks: document.provenance },
  ].filter(({ blocks }) => blocks.length > 0);
}

const paragraph = (content: readonly Inline[]): Block => ({
  kind: "paragraph",
  role: "plain",
  content,
});

const heading = (text: string): Block => ({
  ...{ kind: "heading", depth: 3, id: "", number: "" },
  content: [text],
});

const list = (items: readonly (readonly Block[])[]): Block => ({
  kind: "list",
  ordered: false,
  items,
});

function cautionBlocks({ cautions }: AppendixDocument): readonly Block[] {
  if (cautions.length === 0) return [];
  const words = `${cautionsCount(cautions)}, by section; those of one kind stand together.`;
  return [
    paragraph([words]),
    ...cautions.flatMap((section) => [
      heading(section.heading),
      list(section.kinds.map(kindBlocks)),
    ]),
  ];
}

function kindBlocks([first, ...others]: readonly CautionEntry[]): readonly Block[] {
  if (first === undefined) return [];
  const rest = others.map(({ content }) => [paragraph(content)]);
  return [paragraph(first.content), ...(rest.length === 0 ? [] : [list(rest)])];
}

/** Readings, options and basis of each step, under the section that the step stands in. */
function howBlocks({ inBrief, body }: AppendixDocument): readonly Block[] {
  const blocks = everyBlock([...inBrief, ...body.flatMap((part) => part.blocks)]);
  let section = "In brief";
  let named = "";
  const told = new Set<string>();
  return blocks.flatMap((block) => {
    if (isSection(block)) section = headingText(block);
    if (!isHow(block)) return [];
    const under = named === section ? [] : [heading(section)];
    named = section;
    return [...under, ...inLines(block, told)];
  });
}

/** An account in lines: its tables told row by row; a basis that was told already is not repeated. */
function inLines({ summary, blocks }: Folded, told: Set<string>): readonly Block[] {
  const head: Block = { kind: "paragraph", role: "label", content: summary };
  const rest = blocks.flatMap((block): readonly Block[] => {
    if (block.kind === "table") return [rowsInLine(block)];
    if (block.kind === "paragraph" && block.role === "label") return [];
    if (block.kind !== "list") return [block];
    const items = block.items.filter((item) => {
      const words = JSON.stringify(item);
      const isNew = !told.has(words);
      told.add(words);
      return isNew;
    });
    return items.length === 0 ? [] : [{ ...block, items }];
  });
  return [head, ...rest];
}

/** "Options used: evidence 2; steps auto." */
function rowsInLine({ caption, rows }: TableBlock): Block {
  const entries = rows.map((row) => row.map(({ content }) => plainText(content)).join(" "));
  const opening: Inline = { kind: "marked", mark: "small", content: [`${plainText(caption)}: `] };
  return paragraph([opening, `${entries.join("; ")}.`]);
}

const isSection = (block: Block): block is Heading => block.kind === "heading" && block.depth === 2;
const isHow = (block: Block): block is Folded => block.kind === "folded" && block.role === "how";

function sourceBlocks({ sources }: AppendixDocument): readonly Block[] {
  if (sources.length === 0) return [];
  const items = sources.map(({ source, statements }) => [
    paragraph([{ kind: "marked", mark: "strong", content: [source] }]),
    ...statements.map((statement) => paragraph([statement])),
  ]);
  return [list(items)];
}
