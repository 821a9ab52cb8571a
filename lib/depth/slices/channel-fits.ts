import type { Stations } from "../data/gather-stations.js";
import type { DepthSlices } from "../depth-slices.js";
import { type InvertedLine, residuals, rootMeanSquare } from "../invert/inverted-line.js";
import type { SettledLine } from "../invert/line/invert-line.js";
import { zeroOf } from "../invert/line/line-state.js";
import type { StationsAlone } from "../invert/station/station-line.js";

/** Each channel's fit, and what the inversion of a whole line made of its noise, gain and zero. */
export function channelFits(
  stations: Stations,
  line: InvertedLine | StationsAlone,
): NonNullable<DepthSlices["channels"]> {
  const all = residualsOf(line);
  const n = stations.chainage_m.length;
  const c = stations.channels.length;
  return stations.channels.map(({ resource, channel }, d) => {
    const residual = Float64Array.from({ length: n }, (_, i) =>
      line.gap[i] === "" ? all[i * c + d]! : Number.NaN,
    );
    return {
      resource,
      channel: channel.field,
      coils: { ...channel },
      misfit: rootMeanSquare(residual),
      residual,
      ...ownErrors(line.settled, d),
    };
  });
}

function residualsOf(line: InvertedLine | StationsAlone): Float64Array {
  if (line.settled !== null) return residuals(line.settled);
  return "residual" in line ? line.residual : new Float64Array(0);
}

function ownErrors(settled: SettledLine | null, d: number) {
  if (settled === null) return { noiseScale: 1, gain: 1, shift_ppm: 0 };
  const { data, belief, state } = settled;
  return {
    noiseScale: belief.noiseScale[d]!,
    gain: 1 + data.gainSd[d]! * state.channel[d]!,
    shift_ppm: zeroOf(data, state, d),
  };
}
