import type { Block } from "./block.js";
import { plainText } from "./inline.js";

/** What stands in front tells its findings one by one: the parts of each summary as a list. */
export function withFindingsListed(blocks: readonly Block[]): readonly Block[] {
  return blocks.map((block) => {
    if (block.kind === "group") return { ...block, blocks: withFindingsListed(block.blocks) };
    if (block.kind !== "paragraph" || block.role !== "summary") return block;
    const parts = partsOf(plainText(block.content));
    if (parts.length < 2) return block;
    const items = parts.map((text): readonly Block[] => [
      { kind: "paragraph", role: "plain", content: [text] },
    ]);
    return { kind: "list", ordered: false, items };
  });
}

/** Sentences; of the first, which is a headline, the parts that semicolons divide. */
function partsOf(summary: string): readonly string[] {
  const [headline = "", ...sentences] = summary.split(/(?<=\.) (?=[A-Z0-9])/);
  return [...headline.split("; "), ...sentences].map((part) => {
    const text = part.replace(/\.$/, "");
    return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
  });
}
