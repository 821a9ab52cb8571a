// Depth slices with what figures of a whole inversion need: channels with residuals, heights, a crest.
import type { ChannelFit, DepthSlices } from "../../lib/depth/depth-slices.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { channelOf } from "./campaign.js";
import { type DepthSlicesMaker, makeDepthSlices } from "./depth-slices.js";

export interface FittedMaker extends DepthSlicesMaker {
  /** Residual of a channel (0 … 3) at a chainage, in noise; default: noise of unit spread. */
  readonly residual?: (channel: number, chainage_m: number, noise: number) => number;
  /** Crest by chainage; without it the survey tells none. */
  readonly crest?: (chainage_m: number) => number;
}

const FREQUENCIES_HZ = [4000, 60_000];

/** Two coil orientations of two frequencies: HCP 4 and 60 kHz, VCP 4 and 60 kHz. */
export function makeFittedSlices(maker: FittedMaker = {}): DepthSlices {
  const slices = makeDepthSlices(maker);
  const random = seededRandom(9);
  const residualAt = maker.residual ?? ((_c, _x, noise) => noise);
  const coils = (["HCP", "VCP"] as const).flatMap((orientation) =>
    FREQUENCIES_HZ.map((frequency_Hz) => channelOf({ orientation, frequency_Hz })),
  );
  const channels = coils.map((channel, c): ChannelFit => {
    const residual = slices.chainage_m.map((x, i) => {
      const noise = random.normal();
      return slices.gap[i] === "" ? residualAt(c, x, noise) : Number.NaN;
    });
    const present = residual.filter((one) => !Number.isNaN(one));
    const misfit = Math.sqrt(present.reduce((sum, one) => sum + one * one, 0) / present.length);
    const name = { resource: "walk", channel: channel.field, coils: channel };
    return { ...name, misfit, residual, noiseScale: 1, gain: 1, shift_ppm: 0 };
  });
  const { crest } = maker;
  return {
    ...slices,
    channels,
    height_m: new Float64Array(slices.chainage_m.length).fill(0.9),
    ...(crest && { crestElevation_m: slices.chainage_m.map(crest) }),
  };
}
