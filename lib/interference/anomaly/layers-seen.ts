import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import type { StationForward } from "../../earth/station-forward.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Channel } from "../../survey/survey.js";

/** What c channels show over m layers, in their units. */
export interface LayersSeen {
  readonly values: Float64Array;
  /** For each layer, by how much a change of its ln conductivity by 1 moves the channels. */
  readonly layers: readonly Float64Array[];
}

/** @returns what is seen over m values of ln S/m. */
export function layersSeen(
  forward: StationForward,
  channels: readonly Channel[],
): (lnConductivity: Float64Array) => LayersSeen {
  const m = forward.layers;
  const units = channels.map(ppmPerUnit);
  const ppm = new Float64Array(channels.length);
  const jacobian = new Float64Array(channels.length * m);
  return (lnConductivity) => {
    forward.evaluate(lnConductivity, ppm, jacobian);
    return {
      values: ppm.map((one, c) => one / itemAt(units, c)),
      layers: Array.from({ length: m }, (_, l) =>
        Float64Array.from(units, (unit, c) => itemAt(jacobian, c * m + l) / unit),
      ),
    };
  };
}
