import { type Fault, quoted, StepError } from "../result/step-error.js";
import { unknownOptions } from "../result/unknown-options.js";
import type { Campaign } from "../survey/survey.js";

export interface DepthOptions {
  /** Spacing of stations along chainage, m, over 0. Default 2. */
  readonly spacing_m: number;
  /** Depths of the model's layer tops, m, rising from 0; the last layer goes on for ever. */
  readonly layerTops_m: readonly number[];
  /** "auto": as many as the data hold independent levels; or the slices wanted, m. */
  readonly slices: "auto" | readonly { readonly top_m: number; readonly base_m: number }[];
  /** Share of the value that is noise whatever the averaging, 0 … 1. Default 0.02. */
  readonly proportionalNoise: number;
  /** Least noise of a single reading, ppm, over 0. Default 5. */
  readonly floor_ppm: number;
  /** Prior standard deviation of a column's level, ln units. Default 1. */
  readonly levelSd: number;
  /** Prior standard deviation of a layer about the column's level, ln units. Default 0.7. */
  readonly layerSd: number;
  /** Depth over which layers resemble each other before the data speak, m. Default 1. */
  readonly correlation_m: number;
  /** A slice is reliable where its mean is known to this posterior deviation, log10. Default 0.12. */
  readonly sliceSd: number;
  /** Share of the campaign's channels that a station needs, 0 … 1. Default 0.5. */
  readonly channelShare: number;
  /** Called now and then with stations done and stations in all. Default none. */
  readonly progress: ((done: number, total: number) => void) | null;
}

export const depthDefaults: DepthOptions = Object.freeze({
  spacing_m: 2,
  layerTops_m: Object.freeze([0, 0.25, 0.5, 0.75, 1, 1.3, 1.6, 2, 2.4, 2.8, 3.3, 3.9, 4.6, 5.5, 7]),
  slices: "auto",
  proportionalNoise: 0.02,
  floor_ppm: 5,
  levelSd: 1,
  layerSd: 0.7,
  correlation_m: 1,
  sliceSd: 0.12,
  channelShare: 0.5,
  progress: null,
});

/** Throws a StepError that names every option outside its range and a campaign without channels. */
export function refuseBadDepthInput(campaign: Campaign, used: DepthOptions): void {
  const faults: Fault[] = [];
  const positive = ["spacing_m", "floor_ppm", "levelSd", "layerSd", "correlation_m"] as const;
  for (const name of positive) {
    if (!(used[name] > 0)) faults.push(outOfRange(name, "over 0", used[name]));
  }
  for (const name of ["proportionalNoise", "sliceSd", "channelShare"] as const) {
    if (!(used[name] > 0 && used[name] < 1)) {
      faults.push(outOfRange(name, "between 0 and 1", used[name]));
    }
  }
  const tops = used.layerTops_m;
  if (tops.length < 3 || tops[0] !== 0 || !tops.every((top, j) => j === 0 || top > tops[j - 1]!)) {
    faults.push(outOfRange("layerTops_m", "at least three depths rising from 0", tops));
  }
  if (used.slices !== "auto") {
    const bad = used.slices.find(({ top_m, base_m }) => !(top_m >= 0 && base_m > top_m));
    if (bad !== undefined || used.slices.length === 0) {
      const received = bad === undefined ? "an empty list" : `${bad.top_m} to ${bad.base_m}`;
      faults.push(outOfRange("slices", "slices with 0 ≤ top < base", received));
    }
  }
  if (!campaign.passes.some((pass) => pass.chainage_m.some((x) => !Number.isNaN(x)))) {
    faults.push({
      code: "no-positions",
      path: `campaign ${campaign.label}`,
      expected: "a campaign with at least one reading that has a position",
      received: "none",
    });
  }
  faults.push(...unknownOptions(used, depthDefaults));
  if (faults.length > 0) throw new StepError("estimateDepthSlices", faults);
}

function outOfRange(name: string, expected: string, received: unknown): Fault {
  return {
    code: "option-range",
    path: `options.${name}`,
    expected,
    received: quoted(received),
  };
}
