import type { Work } from "../work.js";

/** "met": the record has all of it; "in part": what is lacking is said; "none": it has nothing. */
export type RequirementState = "met" | "in part" | "not recorded" | "does not apply";

export interface Answer {
  readonly state: RequirementState;
  /** What the record has, and what it lacks, in a sentence or two. */
  readonly text: string;
}

/** Something that a report of such a survey owes its reader, and how it is answered from the work. */
export interface Requirement {
  readonly id: string;
  readonly asks: string;
  /** The steps at which it is to be found. */
  readonly where: readonly string[];
  readonly answer: (work: Work) => Answer;
}

/** A requirement with its answer. */
export interface RequirementAnswer extends Answer {
  readonly id: string;
  readonly asks: string;
  readonly where: readonly string[];
}

export const met = (text: string): Answer => ({ state: "met", text });
export const inPart = (text: string): Answer => ({ state: "in part", text });
export const none = (text: string): Answer => ({ state: "not recorded", text });
export const notAsked = (text: string): Answer => ({ state: "does not apply", text });
