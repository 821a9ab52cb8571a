import { valueAt } from "../../numerics/arrays.js";
import type { Stations } from "../data/gather-stations.js";
import { rootMeanSquare } from "../data/root-mean-square.js";
import type { DepthSlices } from "../depth-slices.js";
import type { InvertedLine } from "../invert/inverted-line.js";
import { zeroOf } from "../invert/line/line-state.js";

/** Each channel's fit and noise factor, and of a joint inversion its gain and zero. */
export function channelFits(
  { channels }: Stations,
  { residual: all, gap, joint, ensemble }: InvertedLine,
): NonNullable<DepthSlices["channels"]> {
  const c = channels.length;
  return channels.map(({ resource, channel }, d) => {
    const residual = Float64Array.from(gap, (why, i) =>
      why === "" ? valueAt(all, i * c + d) : Number.NaN,
    );
    return {
      resource,
      channel: channel.field,
      coils: { ...channel },
      misfit: rootMeanSquare(residual),
      residual,
      ...channelErrors(joint, d),
      ...(ensemble !== null && { noiseScale: valueAt(ensemble.noiseScale, d) }),
    };
  });
}

function channelErrors(joint: InvertedLine["joint"], d: number) {
  if (joint === null) return { noiseScale: 1, gain: 1, shift_ppm: 0 };
  const { data, hyper, channel } = joint;
  return {
    noiseScale: valueAt(hyper.noiseScale, d),
    gain: 1 + valueAt(data.gainSd, d) * valueAt(channel, d),
    shift_ppm: zeroOf(joint, d),
  };
}
