import { listText } from "../../step/list-text.js";
import { depthText } from "../ranges.js";
import type { Changes, DetectableChange } from "./changes.js";

/** A slice is hardly seen where a stretch may fall to less than this, or rise to its inverse, unfound. */
const HARDLY = 0.5;

const isHardlySeen = ({ fell }: DetectableChange) => fell === null || fell < HARDLY;

/** "A change of one slice over 80 m would have been found … from a fall to 0.84 or a rise to 1.23 …" */
export function detectableText({ detectable = [] }: Changes): string {
  const [first] = detectable;
  const seen = detectable.filter((one) => !isHardlySeen(one));
  if (first === undefined || seen.length === 0) return "";
  const parts = seen.map((one) => `${sizesText(one)} at ${depthText(one)} m`);
  return (
    `A change of one slice over ${first.length_m.toFixed(0)} m would have been found in nine of ten ` +
    `from ${listText(parts)} on.`
  );
}

const sizesText = ({ fell, rose }: DetectableChange) =>
  `a fall to ${fell?.toFixed(2)} ${rose === null ? "(no rise)" : `or a rise to ${rose.toFixed(2)}`} times`;

/** Of slices where no change found is not none. */
export function hardlySeenText({ detectable = [] }: Changes): readonly string[] {
  const [first] = detectable;
  const hardly = detectable.filter(isHardlySeen);
  if (first === undefined || hardly.length === 0) return [];
  const length = `${first.length_m.toFixed(0)} m`;
  const where = listText(hardly.map((one) => `${depthText(one)} m`));
  return [
    `A change at ${where} alone can hardly be seen: over ${length} resistivity could halve there and ` +
      "not be found. None found is not none.",
  ];
}
