import { valueAt } from "../../numerics/arrays.js";
import type { Stations } from "../data/gather-stations.js";
import { rootMeanSquare } from "../data/root-mean-square.js";
import type { DepthSlices } from "../depth-slices.js";
import type { FoundLine } from "../posterior/hyperparameters.js";
import type { LineDraws } from "../posterior/line-drawer.js";

/** Each channel's fit, and its noise as found over the stated one. */
export function channelFits(
  { channels }: Stations,
  { residual: all, squares, effective }: LineDraws,
  { level, found }: FoundLine,
): NonNullable<DepthSlices["channels"]> {
  const of = (values: Float64Array, d: number) =>
    effective.map((_, i) => valueAt(values, i * level.width + d));
  return channels.map(({ resource, channel }, d) => ({
    resource,
    channel: channel.field,
    coils: { ...channel },
    misfit: rootMeanSquare(of(squares, d).map(Math.sqrt)),
    residual: of(all, d),
    noiseScale: valueAt(found.white, d) / valueAt(level.stated, d),
    gain: 1,
    shift_ppm: 0,
  }));
}
