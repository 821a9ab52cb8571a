import type { DepthSlices } from "../../depth/depth-slices.js";
import { asEstimated } from "../../depth/shape/shape-in-slices.js";
import { stationForward } from "../../earth/station-forward.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { type LineChannels, relative, type Sides } from "./channel-steps.js";

/** What p channels do at a place where coils or ground differ, as shares of their readings. */
export interface PlaceResponse {
  /** What the stated heights make of it over the ground before the place. */
  readonly stated: Float64Array;
  /** For coils h higher than stated: first × h + second × h². */
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** p rows of m: for each ln conductivity. */
  readonly byLayer: readonly Float64Array[];
  readonly top_m: Float64Array;
}

/** Heights at which a height's effect is taken, above and below the stated one, m. */
const HEIGHT_STEP_M = 0.15;

/** The responses of channels `index` over the ground as estimated on both sides of a place. */
export function placeResponse(
  slices: DepthSlices,
  { channels }: LineChannels,
  { index, sides }: { readonly index: readonly number[]; readonly sides: Sides },
): PlaceResponse {
  const { top_m } = slices.layers;
  const used = index.map((c) => itemAt(channels, c));
  const [before, after] = [meanLayers(slices, sides.before), meanLayers(slices, sides.after)];
  const [was_m, is_m] = [meanHeight(slices, sides.before), meanHeight(slices, sides.after)];
  // What the bank takes hardly hangs on the height: once a line is enough.
  const usual_m = median(slices.height_m ?? Float64Array.of(1)) || 1;
  const onItsBank = asEstimated(slices.shape, { channels: used, top_m, height_m: usual_m });
  const responseAt = (height_m: number, column: Float64Array) => {
    const forward = onItsBank(stationForward(used, top_m, Math.max(0, height_m)));
    const response = new Float64Array(used.length);
    const jacobian = new Float64Array(used.length * top_m.length);
    forward.evaluate(column, response, jacobian);
    return { response, jacobian };
  };
  const { response } = responseAt(is_m, before);
  const [low, high] = [-HEIGHT_STEP_M, HEIGHT_STEP_M].map((off) =>
    responseAt(is_m + off, before).response.map((one, c) => relative(one, itemAt(response, c))),
  ) as [Float64Array, Float64Array];
  const ground = responseAt(
    is_m,
    before.map((one, j) => (one + itemAt(after, j)) / 2),
  );
  return {
    stated: responseAt(was_m, before).response.map((one, c) => relative(itemAt(response, c), one)),
    first: high.map((one, c) => (one - itemAt(low, c)) / (2 * HEIGHT_STEP_M)),
    second: high.map((one, c) => (one + itemAt(low, c)) / (2 * HEIGHT_STEP_M ** 2)),
    byLayer: used.map((_, c) =>
      ground.jacobian
        .subarray(c * top_m.length, (c + 1) * top_m.length)
        .map((one) => one / itemAt(ground.response, c)),
    ),
    top_m,
  };
}

/** Mean ln conductivities of the layers over stations; NaN where none has an estimate. */
function meanLayers({ layers }: DepthSlices, [from, to]: readonly [number, number]): Float64Array {
  const m = layers.top_m.length;
  return layers.top_m.map((_, j) => {
    const stations = Array.from({ length: to - from }, (_, k) => from + k);
    return (
      -Math.LN10 * presentMean(stations.map((i) => valueAt(layers.log10Resistivity, i * m + j)))
    );
  });
}

/** The coils' stated height over stations; a metre where none is known. */
function meanHeight({ height_m }: DepthSlices, [from, to]: readonly [number, number]): number {
  const known = height_m ?? new Float64Array(0);
  return presentMean(known.subarray(from, to)) || presentMean(known) || 1;
}
