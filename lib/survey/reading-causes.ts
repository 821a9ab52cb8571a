import type { Cause } from "./pass.js";

/** Causes of a campaign as it is read and placed; a mark k stands for the k-th. */
export const READING_CAUSES: readonly Cause[] = [
  { kind: "no position", text: "no position in the file" },
  { kind: "no value", text: "no value in the file" },
  { kind: "repeated", text: "stood still: averaged into one reading of the spot" },
  { kind: "repeated", text: "the row before, once more: the same time, position and values" },
  {
    kind: "not read",
    text: "no reading of the coils: a channel that stood still, the end of its range, a mark for none",
  },
];

export const MARKS = Object.freeze({
  noPosition: 1,
  noValue: 2,
  stoodStill: 3,
  sameAgain: 4,
  notRead: 5,
});
