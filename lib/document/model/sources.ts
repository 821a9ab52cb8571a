import { groupedBy } from "../../numerics/arrays.js";
import { type Block, everyBlock } from "./block.js";
import { type Inline, plainText } from "./inline.js";

/** Where something is published, and what stands on it. */
export interface Source {
  readonly source: string;
  readonly statements: readonly string[];
}

/** What the steps stand on, each source once, by its name. */
export function sourcesOf(blocks: readonly Block[]): readonly Source[] {
  const entries = everyBlock(blocks)
    .filter((block) => block.kind === "folded" && block.role === "how")
    .flatMap((block) => everyBlock([block]))
    .flatMap((block) => (block.kind === "paragraph" ? entryOf(block.content) : []));
  return [...groupedBy(entries, ({ source }) => source)]
    .map(([source, of]) => ({
      source,
      statements: [...new Set(of.map(({ statement }) => statement))],
    }))
    .sort((one, other) => (one.source < other.source ? -1 : 1));
}

function entryOf(content: readonly Inline[]) {
  const at = content.findIndex(
    (one) => typeof one === "object" && one.kind === "marked" && one.mark === "source",
  );
  const marked = content[at];
  if (marked === undefined) return [];
  const source = plainText([marked]).replace(/^\(|\)$/g, "");
  return [{ source, statement: plainText(content.slice(0, at)).trim() }];
}
