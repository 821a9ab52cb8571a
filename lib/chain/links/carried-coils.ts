import {
  heightStepsOfBlocks,
  type Stretch,
} from "../../campaigns/coil-height/height-steps-of-blocks.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { listText } from "../../step/list-text.js";

/** Which boundaries coils carried at another height would explain, a sentence; none where none. */
export function carriedCoils(
  slices: DepthSlices,
  { blocks }: { readonly blocks: readonly Stretch[] },
): readonly string[] {
  const steps = heightStepsOfBlocks(slices, blocks);
  if (steps.length === 0) return [];
  const places = steps.map(
    ({ at_m, height_m }) =>
      `${at_m.toFixed(0)} m (${Math.abs(height_m).toFixed(2)} m ` +
      `${height_m > 0 ? "higher" : "lower"} from there on)`,
  );
  const noun = steps.length === 1 ? "boundary" : "boundaries";
  return [
    `Coils carried at another height would explain the ${noun} at ${listText(places)} better ` +
      "than other ground does: all channels step there as a height makes them step. Ask who carried " +
      `them and how, or walk there again; until then the ${noun} and the ground beyond are in doubt.`,
  ];
}
