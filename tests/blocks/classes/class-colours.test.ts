import { expect, it } from "vitest";
import { classColoursOf } from "../../../lib/blocks/classes/class-colours.js";
import { classColour } from "../../../lib/figures/theme.js";

const blocks = (...names: string[]) => names.map((name) => ({ class: name }));

it("gives a class its colour by name, whichever block comes first", () => {
  const colours = classColoursOf(blocks("C", "A", "B", "A"));
  expect(colours).toEqual({ A: classColour(0), B: classColour(1), C: classColour(2) });
  expect(Object.keys(colours)).toEqual(["A", "B", "C"]);
  expect(classColoursOf(blocks("B", "A", "C"))).toEqual(colours);
  expect(classColoursOf([])).toEqual({});
});
