import type { Block, FigureBlock, Group, TableBlock } from "../model/block.js";
import type { PageWidths } from "../model/table-widths.js";
import { type InlineSetting, type PaperInline, paperInlines } from "./paper-inline.js";
import { paperSize, paperSvg, type Size } from "./paper-svg.js";
import { type PaperTable, paperTables } from "./paper-table.js";

/** A block as the template takes it. */
export type PaperBlock =
  | PaperTable
  | PaperFigure
  | { readonly kind: string; readonly [field: string]: unknown };

interface PaperFigure extends Size {
  readonly kind: "figure";
  readonly id: string;
  readonly label: string;
  readonly caption: string;
  readonly alt: string;
  /** The drawing as SVG; "" where it is a picture or there is none. */
  readonly svg: string;
  /** The name of the picture's file; "" where it is none. */
  readonly picture: string;
}

export interface BlockSetting extends InlineSetting {
  readonly widths: PageWidths;
  readonly figureRoom: Size;
  /** Keeps a picture by its data address and gives the name that the template asks for it by. */
  readonly keepPicture: (source: string) => string;
}

/** Blocks as paper shows them: nothing is folded, code is left to the notebook. */
export function paperBlocks(
  blocks: readonly Block[],
  setting: BlockSetting,
): readonly PaperBlock[] {
  return blocks.flatMap((block) => paperBlock(block, setting));
}

function paperBlock(block: Block, setting: BlockSetting): readonly PaperBlock[] {
  const inlines = (content: Parameters<typeof paperInlines>[0]) => paperInlines(content, setting);
  switch (block.kind) {
    case "heading": {
      const { kind, id, depth, number, content } = block;
      return [{ kind, id, depth, number, of: inlines(content) }];
    }
    case "paragraph":
      return [{ kind: "paragraph", role: block.role, of: inlines(block.content) }];
    case "list":
      return [listBlock(block.ordered, block.items, setting)];
    case "table":
      return tableBlocks(block, setting);
    case "figure":
      return [figureBlock(block, setting)];
    case "caution":
      return [{ kind: "caution", id: block.id, sentences: block.sentences.map(inlines) }];
    case "decision":
      return [{ kind: "decision", of: inlines(block.content) }];
    case "preformatted":
      return [{ kind: "preformatted", text: setting.text(block.text) }];
    case "code":
      return block.cell === null ? [unrun] : [];
    case "folded":
      return block.role === "how" ? [] : foldedBlocks(block.summary.length, block, setting);
    case "group":
      return groupBlocks(block, setting);
    case "foreign":
      return paperBlocks(block.blocks, setting);
    default:
      return [{ kind: "rule" }];
  }
}

const unrun: PaperBlock = { kind: "paragraph", role: "label", of: ["This cell was not run."] };

function listBlock(
  ordered: boolean,
  items: readonly (readonly Block[])[],
  setting: BlockSetting,
): PaperBlock {
  return { kind: "list", ordered, items: items.map((item) => paperBlocks(item, setting)) };
}

function tableBlocks(table: TableBlock, setting: BlockSetting): readonly PaperBlock[] {
  if (table.role !== "title") return paperTables(table, setting, setting.widths);
  const rows = table.rows.map((row) =>
    row.map(({ content }): readonly PaperInline[] => paperInlines(content, setting)),
  );
  return [{ kind: "title-block", rows }];
}

function foldedBlocks(
  words: number,
  { summary, blocks }: Extract<Block, { kind: "folded" }>,
  setting: BlockSetting,
): readonly PaperBlock[] {
  const head = { kind: "paragraph", role: "label", of: paperInlines(summary, setting) };
  return [...(words === 0 ? [] : [head]), ...paperBlocks(blocks, setting)];
}

function groupBlocks({ role, blocks }: Group, setting: BlockSetting): readonly PaperBlock[] {
  const inner = paperBlocks(blocks, setting);
  return role === "quote" || role === "error" ? [{ kind: "framed", role, blocks: inner }] : inner;
}

function figureBlock(figure: FigureBlock, setting: BlockSetting): PaperBlock {
  const { id, number, caption, title, drawing } = figure;
  const { text, figureRoom, keepPicture } = setting;
  const svg = drawing?.kind === "svg" ? paperSvg(drawing.svg, text) : "";
  return {
    kind: "figure",
    id,
    label: number === 0 ? "" : `Figure ${number}.`,
    caption: text(caption),
    alt: text(title),
    svg,
    picture: drawing?.kind === "picture" ? keepPicture(drawing.source) : "",
    ...paperSize(svg, figureRoom),
  };
}
