import type { Basis } from "../../step/step-account.js";
import { loweredText, type ShapeInSlices, shapeText } from "./shape-in-slices.js";

export const SHAPE_BASIS: Basis = {
  statement:
    "Of each layer, the part that the bank's cross-section takes from its response, or adds: " +
    "low-induction fields with the charges on the slopes.",
  source: "McNeill 1980, Technical Note 6; Ward & Hohmann 1988 (reciprocity)",
};

/** What is done about the bank's shape, and what is not. */
export function shapeCautions(shape: ShapeInSlices): readonly string[] {
  const low = loweredText(shape);
  switch (shape.state) {
    case "applied":
      return [
        `Readings are taken as over the bank's own cross-section (${shapeText(shape)}), which ` +
          `reads ${low} lower than level ground. Readings that do not see its slopes, such as ` +
          'simulated ones over endless layers, need shape: "leave". Water beside the bank and ' +
          "ground that changes across it are not modelled.",
        ...unknownCaution(shape),
      ];
    case "left":
      return [
        `The readings are taken as over level ground, as asked; over this cross-section ` +
          `(${shapeText(shape)}) they are ${low} low.`,
      ];
    case "no cross-section":
      return [
        "The survey does not state the bank's cross-section (crest width and elevation, " +
          "foundation elevation, both slopes): the readings are taken as over level ground. Over " +
          `a ${shapeText(shape)}, they are ${low} low.`,
      ];
    case "beside the crest":
      return [
        "The line runs beside the crest: its readings are taken as over level ground. What the " +
          "bank beside it adds to them, or a slope takes, is not modelled.",
      ];
  }
}

function unknownCaution({ unknown }: ShapeInSlices): readonly string[] {
  if (unknown === 0) return [];
  const stations = unknown === 1 ? "1 station has" : `${unknown} stations have`;
  return [`${stations} no cross-section: their readings are taken as over level ground.`];
}
