import { itemAt } from "../../numerics/arrays.js";
import { endOf, type GroundTerm, stepTerm } from "./ground-terms.js";

/** A subset of a line's terms, by their places in a `TermOrder`; the level is always among them. */
export interface ChosenOrder {
  /** Ascending. */
  readonly elements: readonly number[];
  readonly broad: readonly number[];
}

/** The level and those terms that follow one another along the line, and those that do not. */
export interface TermOrder {
  readonly elements: readonly GroundTerm[];
  readonly broad: readonly GroundTerm[];
  readonly chosen: (terms: readonly number[]) => ChosenOrder;
  /** Elements, then broad terms: 0 for the level, 1 + its number for a term. */
  readonly rows: (chosen: ChosenOrder) => readonly number[];
}

export function termOrder(terms: readonly GroundTerm[]): TermOrder {
  const numbers = [...terms.keys()];
  const along = numbers
    .filter((k) => !itemAt(terms, k).isBroad)
    .sort((a, b) => compared(itemAt(terms, a), itemAt(terms, b)));
  const broad = numbers.filter((k) => itemAt(terms, k).isBroad);
  return {
    elements: [stepTerm(0, 0), ...along.map((k) => itemAt(terms, k))],
    broad: broad.map((k) => itemAt(terms, k)),
    chosen: (own) => {
      const isChosen = new Uint8Array(terms.length);
      for (const k of own) isChosen[k] = 1;
      return {
        elements: [0, ...placesOf(along, isChosen).map((place) => place + 1)],
        broad: placesOf(broad, isChosen),
      };
    },
    rows: (chosen) => {
      const elements = chosen.elements.map((place) =>
        place === 0 ? 0 : itemAt(along, place - 1) + 1,
      );
      return [...elements, ...chosen.broad.map((b) => itemAt(broad, b) + 1)];
    },
  };
}

function placesOf(numbers: readonly number[], isChosen: Uint8Array): number[] {
  const places: number[] = [];
  for (let place = 0; place < numbers.length; place++) {
    if (isChosen[numbers[place]!] === 1) places.push(place);
  }
  return places;
}

const compared = (a: GroundTerm, b: GroundTerm) => a.from - b.from || endOf(a) - endOf(b);
