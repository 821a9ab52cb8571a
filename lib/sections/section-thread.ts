import { inThread } from "../step/threads/in-thread.js";
import { type Parcel, packed, unpacked } from "../step/threads/parcel.js";
import type { ResistivityLine } from "../survey/resistivity-line.js";
import { type InvertedSection, invertedSection } from "./inverted-section.js";
import type { InvertSectionOptions } from "./section-options.js";

interface SectionTask {
  readonly line: ResistivityLine;
  readonly used: InvertSectionOptions;
}

/** The section of a line; lines that are asked for together are inverted side by side. */
export function sectionInThread(
  line: ResistivityLine,
  used: InvertSectionOptions,
): Promise<InvertedSection> {
  const { progress } = used;
  const here = () => invertedSection(line, used);
  const task = packed({ line, used: { ...used, progress: null } }, []);
  if (task === null) return here();
  return inThread({ module: new URL(import.meta.url), task, here, progress });
}

/** In a thread: the section of a line. */
export function answer(
  _: undefined,
  task: Parcel,
  progress: (done: number, total: number) => void,
): Promise<InvertedSection> {
  const { line, used } = unpacked(task, []) as SectionTask;
  return invertedSection(line, { ...used, progress });
}
