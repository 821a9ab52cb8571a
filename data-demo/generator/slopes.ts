import { layerParts, type PartsBelow, partsBelow } from "../../lib/earth/embankment/layer-parts.js";
import { onBank } from "../../lib/earth/embankment/on-bank.js";
import { stationForward } from "../../lib/earth/station-forward.js";
import { FACTS } from "./facts.js";
import { COILS, channelsOf } from "./instrument.js";
import type { Earth } from "./readings.js";
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
  { conductivity_S_per_m, thickness_m }: Earth,
  orientation: Orientation,
  height_m: number,
): readonly number[] {
  const tops = [0];
  for (const thickness of thickness_m) tops.push(tops.at(-1)! + thickness);
  const top_m = Float64Array.from(tops);
  const channels = channelsOf(orientation);
  const below = channels.map(() => partsOf(orientation));
  const level = stationForward(channels, top_m, height_m);
  const response = new Float64Array(channels.length);
  const jacobian = new Float64Array(channels.length * tops.length);
  const lnConductivity = Float64Array.from(conductivity_S_per_m, Math.log);
  onBank(level, layerParts(below, top_m), channels).evaluate(lnConductivity, response, jacobian);
  return [...response];
}
