import { layerParts, type PartsBelow, partsBelow } from "../../lib/depth/shape/layer-parts.js";
import { FACTS } from "./facts.js";
import { COILS } from "./instrument.js";
import { type Earth, groundResponse } from "./readings.js";
import type { Orientation } from "./walk.js";

/** What the bank's slopes take from the readings on its crest. */

const { crestWidth_m, crestElevation_m, foundationElevation_m, watersideSlope, landsideSlope } =
  FACTS;
const SHAPE = {
  crestWidth_m,
  height_m: crestElevation_m - foundationElevation_m,
  watersideSlope,
  landsideSlope,
  offset_m: 0,
};

const made = new Map<Orientation, PartsBelow>();

function partsOf(orientation: Orientation): PartsBelow {
  const known = made.get(orientation) ?? partsBelow(SHAPE, [{ orientation, ...COILS }])[0]!;
  made.set(orientation, known);
  return known;
}

/** The ten channels on the crest over a layered bank, ppm, without metal, drift and noise. */
export function crestResponse(
  earth: Earth,
  orientation: Orientation,
  height_m: number,
): readonly number[] {
  const top_m = [0];
  for (const thickness of earth.thickness_m) top_m.push(top_m.at(-1)! + thickness);
  const { bank, level } = layerParts([partsOf(orientation)], top_m);
  const sum = (parts: Float64Array) =>
    parts.reduce((total, part, j) => total + part * earth.conductivity_S_per_m[j]!, 0);
  const factor = sum(bank) / sum(level);
  return groundResponse(earth, orientation, height_m).map((value) => factor * value);
}
