import type { Block, FigureBlock, Heading } from "./block.js";
import type { CautionSection } from "./cautions.js";
import type { Inline } from "./inline.js";
import type { Source } from "./sources.js";

/** The appendix as a document, from which the page and the paper are made. */
export interface AppendixDocument {
  readonly title: string;
  readonly titleContent: readonly Inline[];
  /** Which bank, survey and issue it is of. */
  readonly titleBlock: readonly Block[];
  readonly intro: readonly Block[];
  /** What the owner reads first; empty for nothing. */
  readonly inBrief: readonly Block[];
  readonly body: readonly Part[];
  /** Headings of the body and the annexes, of depth 2 and 3. */
  readonly headings: readonly Heading[];
  readonly figures: readonly FigureBlock[];
  readonly cautions: readonly CautionSection[];
  readonly sources: readonly Source[];
  /** What the appendix was made from; empty where it is not known. */
  readonly provenance: readonly Block[];
}

/** One cell of the notebook. A silent one shows nothing but its code. */
export interface Part {
  readonly role: "words" | "cell" | "silent";
  readonly blocks: readonly Block[];
}
