import { decidedInWords, decisionWords } from "../../chain/decisions/decision-words.js";
import type { Block, Cell, DecisionBlock, TableBlock } from "./block.js";
import { type Inline, plainText } from "./inline.js";

/** Decisions say in words what they decide, the option's name beside it in small. */
export function withDecisionTitles(blocks: readonly Block[]): readonly Block[] {
  return blocks.map((block) => {
    if (block.kind === "decision") return titledDecision(block);
    if (block.kind === "table") return titledTable(block);
    if (block.kind !== "group") return block;
    return { ...block, blocks: withDecisionTitles(block.blocks) };
  });
}

/** "Decided: segmentBlocks.minLength_m = 40." opens as "Shortest block: 40 m". */
function titledDecision(block: DecisionBlock): DecisionBlock {
  const [opening, ...rest] = block.content;
  const words = opening === undefined ? "" : plainText([opening]);
  const [, name = "", value = ""] = /^Decided: (\S+) = (.*)\.$/s.exec(words) ?? [];
  const strong = decidedInWords(name, value);
  if (strong === null) return block;
  return {
    ...block,
    content: [marked("strong", strong), " ", marked("small", name), ".", ...rest],
  };
}

function titledTable(table: TableBlock): TableBlock {
  const at = table.head.findIndex(({ content }) => plainText(content) === "Decision");
  if (at < 0) return table;
  const rows = table.rows.map((row) => row.map((cell, i) => (i === at ? titledCell(cell) : cell)));
  return { ...table, rows };
}

function titledCell(cell: Cell): Cell {
  const name = plainText(cell.content);
  const known = decisionWords(name);
  if (known === null) return cell;
  return { ...cell, content: [`${known.title} `, marked("small", name)] };
}

function marked(mark: "strong" | "small", text: string): Inline {
  return { kind: "marked", mark, content: [text] };
}
