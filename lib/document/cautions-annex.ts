import { groupedBy } from "../numerics/arrays.js";
import type { CautionEntry } from "./cautions.js";

/** Cautions of one section, in the order in which they were said. */
interface CautionSection {
  readonly heading: string;
  readonly kinds: readonly (readonly CautionEntry[])[];
}

/**
 * All cautions by section, each linked to where it was said. Those that differ only in places,
 * dates and numbers stand under the first of their kind, folded.
 */
export function cautionsAnnex(cautions: readonly CautionEntry[]): string {
  const sections = sectionsOf(cautions);
  if (sections.length === 0) return "";
  const lists = sections.map(
    ({ heading, kinds }) => `<h3>${heading}</h3>\n<ul>${kinds.map(kindHtml).join("\n")}</ul>`,
  );
  return `<section class="words annex"><h2 id="all-cautions">All cautions</h2>\n${lists.join("\n")}</section>`;
}

/** What stands at the front of the annex: how many there are, and where. */
export function cautionsPointer(cautions: readonly CautionEntry[]): string {
  const sections = sectionsOf(cautions);
  const count = sections.reduce((sum, { kinds }) => sum + kinds.flat().length, 0);
  if (count === 0) return "";
  const kinds = sections.reduce((sum, section) => sum + section.kinds.length, 0);
  const [noun, number] = [count === 1 ? "caution" : "cautions", String(count)];
  const ofKinds = kinds < count ? ` of ${kinds} kinds` : "";
  return (
    `<aside class="front"><p><a href="#all-cautions">${number} ${noun}${ofKinds}</a> stand beside ` +
    "the steps that they belong to, and by section at the end.</p></aside>"
  );
}

function sectionsOf(cautions: readonly CautionEntry[]): readonly CautionSection[] {
  const first = new Map<string, CautionEntry>();
  for (const caution of cautions) if (!first.has(caution.html)) first.set(caution.html, caution);
  const bySection = groupedBy([...first.values()], ({ section }) => section);
  return [...bySection].map(([heading, entries]) => ({
    heading,
    kinds: [...groupedBy(entries, kindOf).values()],
  }));
}

/** A caution's words without what differs from place to place: figures, and names of files. */
const kindOf = ({ html }: CautionEntry) =>
  html.replace(/<[^>]*>/g, "").replace(/\S*\d\S*|\S+\.\S+/g, "#");

function kindHtml([first, ...others]: readonly CautionEntry[]): string {
  if (first === undefined) return "";
  if (others.length === 0) return `<li>${linked(first)}</li>`;
  const items = others.map((entry) => `<li>${linked(entry)}</li>`).join("\n");
  return (
    `<li>${linked(first)}\n<details><summary>and ${others.length} more of this kind</summary>` +
    `<ul>${items}</ul></details></li>`
  );
}

const linked = ({ id, html }: CautionEntry) =>
  `<a href="#${id}">${html.replace(/<\/?a\b[^>]*>/g, "")}</a>`;
