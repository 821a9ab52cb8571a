import type { AppendixDocument } from "../model/appendix-document.js";
import { type Block, everyBlock, type TableBlock } from "../model/block.js";
import { plainText } from "../model/inline.js";
import type { Manuscript } from "./compile.js";
import { faces } from "./faces.js";
import { lettersIn } from "./letters.js";
import { type PaperAnnex, paperAnnexes } from "./paper-annexes.js";
import { type BlockSetting, paperBlocks } from "./paper-blocks.js";
import { type PaperText, paperText } from "./paper-text.js";
import { page } from "./template.js";

/** The document as the template takes it. */
export function manuscript(document: AppendixDocument): Manuscript {
  const text = paperText(lettersIn(faces()[0] as Buffer));
  const annexes = paperAnnexes(document);
  const pictures = new Map<string, Buffer>();
  const setting = blockSetting({ text, pictures, places: placesIn(document, annexes) });
  const set = (blocks: readonly Block[]) => paperBlocks(blocks, setting);
  const body = set(document.body.flatMap(({ blocks }) => blocks));
  const data = {
    title: text(document.title),
    authors: entry(document, "Author").map(text),
    head: text(entry(document, "Bank")[0] ?? document.title),
    foot: text(["Reference", "Revision"].flatMap((label) => entry(document, label)).join(" · ")),
    titleBlock: set(document.titleBlock),
    brief: set(document.inBrief),
    contents: document.headings.length > 1,
    figures: document.figures.map(({ id, number, title }) => ({
      ...{ id, label: `Figure ${number}.`, title: text(title) },
    })),
    intro: set(document.intro),
    body,
    annexes: annexes.map(({ id, heading, blocks }, i) => ({
      ...{ id, heading: `Annex ${letter(i)}: ${heading}`, blocks: set(blocks) },
    })),
  };
  return { data, pictures };
}

const letter = (i: number) => String.fromCharCode(65 + i);

interface Parts {
  readonly text: PaperText;
  readonly pictures: Map<string, Buffer>;
  readonly places: ReadonlySet<string>;
}

function blockSetting({ text, pictures, places }: Parts): BlockSetting {
  const width_pt = page.width - 2 * page.side;
  return {
    text,
    places,
    widths: { upright_pt: width_pt, turned_pt: page.height - 2 * page.side },
    figureRoom: { width_pt, height_pt: page.height - page.top - page.foot - 90 },
    keepPicture: (source) => {
      const [, type = "png", bytes = ""] = /^data:image\/(\w+);base64,(.*)$/s.exec(source) ?? [];
      const name = `picture-${pictures.size + 1}.${type}`;
      pictures.set(name, Buffer.from(bytes, "base64"));
      return name;
    },
  };
}

/** Every place that the paper has, by its id. */
function placesIn(document: AppendixDocument, annexes: readonly PaperAnnex[]): ReadonlySet<string> {
  const { intro, inBrief, body } = document;
  const blocks = everyBlock([...intro, ...inBrief, ...body.flatMap((part) => part.blocks)]);
  const ids = blocks.flatMap((block) => ("id" in block && block.id !== "" ? [block.id] : []));
  const brief = inBrief.length > 0 ? ["in-brief"] : [];
  return new Set([...ids, ...brief, ...annexes.map(({ id }) => id)]);
}

/** What the title block says under a label; nothing where it is not stated. */
function entry({ titleBlock }: AppendixDocument, label: string): readonly string[] {
  const rows = everyBlock(titleBlock)
    .filter((block): block is TableBlock => block.kind === "table" && block.role === "title")
    .flatMap(({ rows }) => rows);
  return rows.flatMap(([head, value]) => {
    if (head === undefined || value === undefined || plainText(head.content) !== label) return [];
    const words = plainText(value.content);
    return words === "not stated" ? [] : [words];
  });
}
