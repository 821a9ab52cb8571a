import type { Inline } from "./inline.js";

/** One piece of a document, in its order down the page. */
export type Block =
  | Heading
  | Paragraph
  | List
  | TableBlock
  | FigureBlock
  | CautionBlock
  | DecisionBlock
  | Preformatted
  | Code
  | Folded
  | Group
  | Foreign
  | Rule;

export interface Heading {
  readonly kind: "heading";
  readonly depth: number;
  readonly id: string;
  /** Such as "6" or "6.1"; "" where it has none. */
  readonly number: string;
  /** Without its number. */
  readonly content: readonly Inline[];
}

export interface Paragraph {
  readonly kind: "paragraph";
  /** "summary": what a step found; "counts": its account of readings; "label": names what follows. */
  readonly role: "plain" | "summary" | "counts" | "label";
  readonly content: readonly Inline[];
}

export interface List {
  readonly kind: "list";
  readonly ordered: boolean;
  readonly items: readonly (readonly Block[])[];
}

export interface TableBlock {
  readonly kind: "table";
  /** "title": the rows of the title block; "plain": a table within the words. */
  readonly role: "data" | "title" | "plain";
  readonly id: string;
  /** From 1 through the document; null where it has no number. */
  readonly number: number | null;
  readonly caption: readonly Inline[];
  /** Empty where it has no head. */
  readonly head: readonly Cell[];
  readonly rows: readonly (readonly Cell[])[];
  /** True where a screen shows it folded. */
  readonly folded: boolean;
}

export interface Cell {
  readonly content: readonly Inline[];
  readonly isHeading: boolean;
  readonly isNumeric: boolean;
  readonly span: number;
}

export interface FigureBlock {
  readonly kind: "figure";
  readonly id: string;
  readonly number: number;
  /** The finding, which is also what is read out in place of the drawing. */
  readonly title: string;
  readonly caption: string;
  readonly drawing: Drawing | null;
  /** The Vega-Lite specification; null where there is none. */
  readonly spec: unknown;
}

export type Drawing =
  | { readonly kind: "svg"; readonly svg: string }
  | { readonly kind: "picture"; readonly source: string };

export interface CautionBlock {
  readonly kind: "caution";
  readonly id: string;
  readonly sentences: readonly (readonly Inline[])[];
}

export interface DecisionBlock {
  readonly kind: "decision";
  readonly content: readonly Inline[];
}

export interface Preformatted {
  readonly kind: "preformatted";
  readonly role: "plain" | "output" | "stream";
  readonly text: string;
}

/** The code of a cell. */
export interface Code {
  readonly kind: "code";
  readonly text: string;
  /** The number of its execution; null where it has not run. */
  readonly cell: number | null;
}

export interface Folded {
  readonly kind: "folded";
  /** "how": what a step did with which options, on what basis. */
  readonly role: "plain" | "how";
  readonly summary: readonly Inline[];
  readonly blocks: readonly Block[];
}

export interface Group {
  readonly kind: "group";
  readonly role: "account" | "output" | "error" | "stream" | "quote";
  readonly blocks: readonly Block[];
}

/** HTML that a notebook's author made: shown as it is on a screen, by its blocks elsewhere. */
export interface Foreign {
  readonly kind: "foreign";
  readonly html: string;
  readonly blocks: readonly Block[];
}

export interface Rule {
  readonly kind: "rule";
}

/** Every block, those within others after the one that holds them. */
export function everyBlock(blocks: readonly Block[]): readonly Block[] {
  return blocks.flatMap((block) => [block, ...everyBlock(withinOf(block))]);
}

function withinOf(block: Block): readonly Block[] {
  if (block.kind === "list") return block.items.flat();
  return "blocks" in block ? block.blocks : [];
}
