import { type Block, everyBlock, type Heading, type TableBlock } from "./block.js";
import { type Inline, plainText } from "./inline.js";

/** The section in which a step's account stands first, by the step's name. */
export type StepPlaces = ReadonlyMap<string, Heading>;

export function stepPlaces(blocks: readonly Block[]): StepPlaces {
  const places = new Map<string, Heading>();
  let section: Heading | null = null;
  for (const block of everyBlock(blocks)) {
    if (block.kind === "heading" && block.depth <= 3) section = block;
    const step = stepOf(block);
    if (step !== null && section !== null && !places.has(step)) places.set(step, section);
  }
  return places;
}

/** The step that a folded account is of. */
function stepOf(block: Block): string | null {
  if (block.kind !== "folded" || block.role !== "how") return null;
  const name = block.summary.find((one) => typeof one === "object" && one.kind === "marked");
  return name === undefined ? null : plainText([name]);
}

/** Tables with a column "Where" say there in which sections the steps stand that they name. */
export function withPlaces(blocks: readonly Block[], places: StepPlaces): readonly Block[] {
  return blocks.map((block) => {
    if (block.kind === "table") return tableWithPlaces(block, places);
    if (block.kind !== "group") return block;
    return { ...block, blocks: withPlaces(block.blocks, places) };
  });
}

function tableWithPlaces(table: TableBlock, places: StepPlaces): TableBlock {
  const at = table.head.findIndex(({ content }) => plainText(content) === "Where");
  const names = table.rows.map((row) => plainText(row[at]?.content ?? []).split(", "));
  if (!names.flat().some((name) => places.has(name))) return table;
  const rows = table.rows.map((row, r) =>
    row.map((cell, i) =>
      i === at ? { ...cell, content: sectionsOf(names[r] ?? [], places) } : cell,
    ),
  );
  return { ...table, rows };
}

/** Each section once; a dash where none of the steps stands in this document. */
function sectionsOf(names: readonly string[], places: StepPlaces): readonly Inline[] {
  const found = names.flatMap((name) => places.get(name) ?? []);
  const sections = [...new Map(found.map((section) => [section.id, section])).values()];
  if (sections.length === 0) return ["–"];
  return sections.flatMap((section, i): readonly Inline[] => {
    const { id, number, content } = section;
    const name = number === "" ? plainText(content) : `section ${number}`;
    return [i === 0 ? "" : ", ", { kind: "link", to: `#${id}`, content: [name] }];
  });
}
