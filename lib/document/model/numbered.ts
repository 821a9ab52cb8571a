import type { Block, Heading, TableBlock } from "./block.js";
import { type Inline, plainText } from "./inline.js";

/** What runs through a whole document: names of places, and numbers of sections, figures, tables. */
export interface Numbers {
  readonly newId: (text: string) => string;
  figures: number;
  tables: number;
  section: string;
  readonly below: number[];
  /** True where the sections' own headings are numbered; otherwise they are counted. */
  readonly ownSections: boolean;
}

export function newNumbers(headings: readonly Heading[]): Numbers {
  const ownSections = headings.some(
    ({ depth, content }) => depth === 2 && ownNumber(content) !== null,
  );
  return { newId: idMaker(), figures: 0, tables: 0, section: "", below: [0, 0], ownSections };
}

function idMaker(): (text: string) => string {
  const taken = new Set<string>(["in-brief", "all-cautions"]);
  return (text) => {
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
}

/** Blocks with ids and numbers; those within an author's own HTML stay as they are. */
export function numbered(blocks: readonly Block[], numbers: Numbers): readonly Block[] {
  return blocks.map((block) => numberedBlock(block, numbers));
}

function numberedBlock(block: Block, numbers: Numbers): Block {
  switch (block.kind) {
    case "heading":
      return numberedHeading(block, numbers);
    case "figure":
      numbers.figures += 1;
      return { ...block, number: numbers.figures, id: `figure-${numbers.figures}` };
    case "table":
      return numberedTable(block, numbers);
    case "caution":
      return { ...block, id: numbers.newId("caution") };
    case "list":
      return { ...block, items: block.items.map((item) => numbered(item, numbers)) };
    case "group":
      return { ...block, blocks: numbered(block.blocks, numbers) };
    case "folded":
      return block.role === "how" ? block : { ...block, blocks: numbered(block.blocks, numbers) };
    default:
      return block;
  }
}

function numberedTable(table: TableBlock, numbers: Numbers): TableBlock {
  if (table.role !== "data" || table.caption.length === 0) return table;
  numbers.tables += 1;
  return { ...table, number: numbers.tables, id: `table-${numbers.tables}` };
}

function numberedHeading(heading: Heading, numbers: Numbers): Heading {
  const own = ownNumber(heading.content);
  const content = own === null ? heading.content : own.rest;
  const id = numbers.newId(plainText(content));
  return { ...heading, id, content, number: sectionNumber(heading.depth, own, numbers) };
}

function sectionNumber(depth: number, own: OwnNumber | null, numbers: Numbers): string {
  if (depth === 2) {
    if (!numbers.ownSections) numbers.below[0] = (numbers.below[0] ?? 0) + 1;
    numbers.section = numbers.ownSections ? (own?.number ?? "") : String(numbers.below[0]);
    numbers.below[1] = 0;
    return numbers.section;
  }
  if (own !== null) return own.number;
  if (depth !== 3 || numbers.section === "") return "";
  numbers.below[1] = (numbers.below[1] ?? 0) + 1;
  return `${numbers.section}.${numbers.below[1]}`;
}

interface OwnNumber {
  readonly number: string;
  readonly rest: readonly Inline[];
}

/** The number that a heading carries in its text. */
function ownNumber([first, ...others]: readonly Inline[]): OwnNumber | null {
  if (typeof first !== "string") return null;
  const [all, number] = /^(\d+(?:\.\d+)*)[.)]?\s+(?=\S)/.exec(first) ?? [];
  return all === undefined || number === undefined
    ? null
    : { number, rest: [first.slice(all.length), ...others] };
}
