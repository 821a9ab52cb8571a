import { type Fault, quoted } from "../step-error.js";
import { nearestName } from "./nearest-name.js";

/** The fault of a value that is not of the kind, or none of the words, that it may be. */
export function valueFault(value: unknown, path: string, expected: string): Fault {
  return { code: "option-value", path, expected, received: quoted(value) };
}

/** The fault of a number outside its range, or of what is no number where one is asked for. */
export function numberFault(value: unknown, path: string, expected: string): Fault {
  const fault = valueFault(value, path, expected);
  return typeof value === "number" ? { ...fault, code: "option-range" } : fault;
}

/** The fault of none of some words, with the word that it most likely stands for. */
export function wordFault(fault: Fault, value: unknown, words: readonly unknown[]): Fault {
  if (typeof value !== "string") return fault;
  const known = words.filter((word) => typeof word === "string");
  return { ...fault, ...didYouMean(value, known, quoted) };
}

/** A fault for each name given that is not known. */
export function unknownNames(given: object, known: readonly string[], path: string): Fault[] {
  const expected =
    known.length === 0 ? "left out: there are no options" : `one of ${known.join(", ")}`;
  return Object.keys(given)
    .filter((name) => !known.includes(name))
    .map((name) => ({
      ...{ code: "option-unknown", path: `${path}.${name}`, expected, received: quoted(name) },
      ...didYouMean(name, known),
    }));
}

function didYouMean(
  given: string,
  known: readonly string[],
  written: (name: string) => string = String,
): Pick<Fault, "hint"> {
  const near = nearestName(given, known);
  return near === null ? {} : { hint: `did you mean ${written(near)}?` };
}
