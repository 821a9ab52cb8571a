// Lines of ground drawn from the prior that an inversion of a line goes by, and their readings.

import { stationForward } from "../../lib/depth/data/station-forward.js";
import { type DepthOptions, depthDefaults } from "../../lib/depth/options.js";
import { linePrior, toModel } from "../../lib/depth/prior/line-prior.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign, Channel } from "../../lib/survey/survey.js";
import { campaignOf, channelOf } from "./campaign.js";

export const DRAWN = {
  together: "line",
  strengths: "given",
  layerTops_m: [0, 0.5, 1, 1.6, 2.4, 3.5, 5],
  levelSd: 0.5,
  layerSd: 0.5,
  correlation_m: 1,
  along_m: 12,
  proportionalNoise: 0.015,
  walkSd: 0.01,
  gainSd: 0.01,
  priorMean_ohm_m: 1 / 0.03,
} as const satisfies Partial<DepthOptions>;

/** The default prior and noise, and an instrument of ten coil pairs. */
export const USUAL = {
  ...DRAWN,
  layerTops_m: depthDefaults.layerTops_m,
  levelSd: depthDefaults.levelSd,
  layerSd: depthDefaults.layerSd,
  along_m: depthDefaults.along_m,
  proportionalNoise: depthDefaults.proportionalNoise,
  walkSd: depthDefaults.walkSd,
} as const;

export const MEAN = Math.log(0.03);

const FEW = [4000, 25_000];
export const MANY = [1500, 4000, 9000, 16_000, 25_000];

function channelsAt(frequencies: readonly number[]): readonly Channel[] {
  return (["HCP", "VCP"] as const).flatMap((orientation) =>
    frequencies.flatMap((frequency_Hz) => [
      channelOf({ kind: "quadrature", frequency_Hz, orientation }),
      channelOf({ kind: "inphase", frequency_Hz, orientation }),
    ]),
  );
}

export interface DrawnLine {
  readonly campaign: Campaign;
  /** n × m ln conductivities. */
  readonly truth: Float64Array;
  readonly stations: number;
}

export interface DrawSketch {
  readonly seed: number;
  readonly stations: number;
  /** Factor on every reading of each channel: a gain error. Default drawn by `DRAWN.gainSd`. */
  readonly gain?: readonly number[];
  readonly floor_ppm?: number;
  /** What the ground and its readings are drawn from; default `DRAWN`. */
  readonly drawnFrom?: typeof DRAWN | typeof USUAL;
  /** Hz, each in both orientations; default two. */
  readonly frequencies?: readonly number[];
}

/** A line of ground at 2 m, walked once in each orientation, one reading a station. */
export function drawnLine(sketch: DrawSketch): DrawnLine {
  const { stations: n, drawnFrom = DRAWN } = sketch;
  const channels = channelsAt(sketch.frequencies ?? FEW);
  const random = seededRandom(sketch.seed);
  const top_m = Float64Array.from(drawnFrom.layerTops_m);
  const m = top_m.length;
  const prior = linePrior(top_m, drawnFrom, 2);
  const chain = (length: number, correlation: number) => {
    const values = Float64Array.from({ length }, () => random.normal());
    for (let i = 1; i < length; i++) {
      values[i] =
        correlation * values[i - 1]! + Math.sqrt(1 - correlation * correlation) * values[i]!;
    }
    return values;
  };
  const u = new Float64Array(n * m);
  for (let j = 0; j < m; j++) {
    for (const [i, value] of chain(n, prior.correlation).entries()) u[i * m + j] = value;
  }
  const truth = toModel(prior.layers, MEAN, { u, q: m });
  const forward = stationForward(channels, top_m, 0.9);
  const response = new Float64Array(channels.length);
  const values = channels.map(() => new Array<number>(n));
  const walks = [0, 1].map(() => chain(n, Math.exp(-2 / 4)));
  const gains = channels.map((_, d) => sketch.gain?.[d] ?? 1 + drawnFrom.gainSd * random.normal());
  for (let i = 0; i < n; i++) {
    forward.evaluate(
      truth.subarray(i * m, (i + 1) * m),
      response,
      new Float64Array(channels.length * m),
    );
    for (const [d, channel] of channels.entries()) {
      const walk = drawnFrom.walkSd * walks[channel.orientation === "HCP" ? 0 : 1]![i]!;
      const floor = sketch.floor_ppm ?? 10;
      const noise = Math.hypot(drawnFrom.proportionalNoise * response[d]!, floor) * random.normal();
      values[d]![i] = response[d]! * (gains[d]! + walk) + noise;
    }
  }
  const chainage_m = Array.from({ length: n }, (_, i) => 2 * i);
  const half = channels.length / 2;
  const passes = ["hcp", "vcp"].map((name, k) => ({
    channels: channels.slice(k * half, (k + 1) * half),
    values: values.slice(k * half, (k + 1) * half),
    chainage_m,
    resource: `walk-${name}`,
  }));
  const noise = passes.flatMap(({ resource, channels }) =>
    channels.map(({ field }) => ({
      resource,
      channel: field,
      floor: sketch.floor_ppm ?? 10,
      share_pct: 0,
    })),
  );
  return { campaign: { ...campaignOf({ passes }), noise }, truth, stations: n };
}

/** Slices that lines are compared over. */
export const SLICES = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2.4 },
  { top_m: 2.4, base_m: 5 },
];

/** True log10(ohm-m) of a slice at a station. */
export function truthOf(
  { truth }: DrawnLine,
  k: number,
  station: number,
  tops: readonly number[] = DRAWN.layerTops_m,
): number {
  const m = tops.length;
  const { top_m, base_m } = SLICES[k]!;
  let sum = 0;
  for (let j = 0; j + 1 < m; j++) {
    const shared = Math.min(base_m, tops[j + 1]!) - Math.max(top_m, tops[j]!);
    sum += Math.max(0, shared) * truth[station * m + j]!;
  }
  return -sum / (base_m - top_m) / Math.LN10;
}
