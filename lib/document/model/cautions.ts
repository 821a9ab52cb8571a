import { groupedBy } from "../../numerics/arrays.js";
import { type Inline, plainText } from "./inline.js";

export interface CautionEntry {
  /** The box that it stands in. */
  readonly id: string;
  /** The section that the box stands in. */
  readonly section: string;
  readonly content: readonly Inline[];
}

/** Cautions of one section, those that differ only in places, dates and numbers together. */
export interface CautionSection {
  readonly heading: string;
  readonly kinds: readonly (readonly CautionEntry[])[];
}

/** All cautions by section, each once, in the order in which they were said. */
export function cautionSections(cautions: readonly CautionEntry[]): readonly CautionSection[] {
  const first = new Map<string, CautionEntry>();
  for (const caution of cautions) {
    const words = plainText(caution.content);
    if (!first.has(words)) first.set(words, caution);
  }
  const bySection = groupedBy([...first.values()], ({ section }) => section);
  return [...bySection].map(([heading, entries]) => ({
    heading,
    kinds: [...groupedBy(entries, kindOf).values()],
  }));
}

/** How many cautions there are, and of how many kinds; "" for none. */
export function cautionsCount(sections: readonly CautionSection[]): string {
  const kinds = sections.reduce((sum, section) => sum + section.kinds.length, 0);
  const count = sections.reduce((sum, section) => sum + section.kinds.flat().length, 0);
  if (count === 0) return "";
  const noun = count === 1 ? "caution" : "cautions";
  return `${count} ${noun}${kinds < count ? ` of ${kinds} kinds` : ""}`;
}

/** A caution's words without what differs from place to place: figures, and names of files. */
const kindOf = ({ content }: CautionEntry) => plainText(content).replace(/\S*\d\S*|\S+\.\S+/g, "#");
