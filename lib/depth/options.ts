import { type Fault, quoted, StepError } from "../step/step-error.js";
import { unknownOptions } from "../step/unknown-options.js";
import type { Campaign } from "../survey/survey.js";

/** Resistivity of a column between two depths as a borehole or a resistivity section tells it. */
export interface DepthTie {
  readonly chainage_m: number;
  readonly top_m: number;
  /** m, below the top. */
  readonly base_m: number;
  /** Mean (of the logarithm) between the depths, at field temperature, ohm-m. */
  readonly resistivity_ohm_m: number;
  /** Standard deviation of its log10, over 0. */
  readonly log10Sd: number;
}

export interface DepthOptions {
  /** Spacing of stations along chainage, m, over 0. Default 2. */
  readonly spacing_m: number;
  /** Depths of the model's layer tops, m, rising from 0; the last layer goes on for ever. */
  readonly layerTops_m: readonly number[];
  /** "auto": as many as the data hold independent levels; or the slices wanted, m. */
  readonly slices: "auto" | readonly { readonly top_m: number; readonly base_m: number }[];
  /**
   * Share of the value that differs from station to station and channel to channel whatever the
   * averaging, 0 … 1. Default 0.02.
   */
  readonly proportionalNoise: number;
  /** Least noise of a single reading, ppm, over 0. Default 5. */
  readonly floor_ppm: number;
  /** Prior standard deviation of a column's level, ln units. Default 1. */
  readonly levelSd: number;
  /** Prior standard deviation of a layer about the column's level, ln units. Default 0.7. */
  readonly layerSd: number;
  /** Depth over which layers resemble each other before the data speak, m. Default 1. */
  readonly correlation_m: number;
  /**
   * "station": each station by itself; "line": all stations of a campaign together, neighbours
   * speaking for each other, with the options below. Default "station".
   */
  readonly together: "station" | "line";
  /**
   * Distance along the bank over which neighbouring columns may speak for each other, m; found within
   * half and double of it. Small errors that neighbours share would stretch it without end, and
   * outvote the ground. Default 10.
   */
  readonly along_m: number;
  /**
   * Resistivity that is expected before the data, ohm-m, over 0; null, the default: that of the
   * half-space which meets the campaign's readings best.
   */
  readonly priorMean_ohm_m: number | null;
  /**
   * "found": the four strengths above and each channel's noise are those under which the campaign's
   * readings are most likely, the options being what is believed beforehand; "given": as stated.
   */
  readonly strengths: "found" | "given";
  /**
   * Standard deviation of an unknown error of each channel's gain, the same along the whole line,
   * share of the value, 0 or over. Null, the default: 0.01, or 0.05 where there are ties.
   */
  readonly gainSd: number | null;
  /**
   * Standard deviation of an unknown error of each channel's zero, the same along the whole line,
   * ppm, 0 or over; what drift correction left uncertain is added. Default 0.
   */
  readonly shiftSd_ppm: number;
  /**
   * Standard deviation of an error that all channels of a walk share at a place (coil height, a
   * position beside the ground of the other walk), share of the response, 0 or over. Default 0.02.
   */
  readonly walkSd: number;
  /** Distance over which that error resembles itself, m, over 0. Default 4. */
  readonly walkAlong_m: number;
  /** What boreholes or resistivity sections tell of the column at their chainage. Default none. */
  readonly ties: readonly DepthTie[];
  /** Posterior draws of the slices to hand on, for later steps: a whole number. Default 0. */
  readonly draws: number;
  /** Seed of the draws, those that mean and spread of a line are taken over too; whole. Default 1. */
  readonly seed: number;
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
  together: "station",
  along_m: 10,
  priorMean_ohm_m: null,
  strengths: "found",
  gainSd: null,
  shiftSd_ppm: 0,
  walkSd: 0.02,
  walkAlong_m: 4,
  ties: Object.freeze([]),
  draws: 0,
  seed: 1,
  sliceSd: 0.12,
  channelShare: 0.5,
  progress: null,
});

/** Throws a StepError that names every option outside its range and a campaign without channels. */
export function refuseBadDepthInput(campaign: Campaign, used: DepthOptions): void {
  const faults: Fault[] = [];
  const positive = ["spacing_m", "floor_ppm", "levelSd", "layerSd", "correlation_m"] as const;
  const lengths = ["along_m", "walkAlong_m"] as const;
  for (const name of [...positive, ...lengths]) {
    if (!(used[name] > 0)) faults.push(outOfRange(name, "over 0", used[name]));
  }
  for (const name of ["proportionalNoise", "sliceSd", "channelShare"] as const) {
    if (!(used[name] > 0 && used[name] < 1)) {
      faults.push(outOfRange(name, "between 0 and 1", used[name]));
    }
  }
  for (const name of ["gainSd", "shiftSd_ppm", "walkSd", "draws"] as const) {
    const value = used[name];
    if (value !== null && !(value >= 0)) faults.push(outOfRange(name, "0 or over", value));
  }
  for (const name of ["draws", "seed"] as const) {
    if (Number.isInteger(used[name])) continue;
    faults.push(outOfRange(name, "a whole number", used[name]));
  }
  if (used.together !== "station" && used.together !== "line") {
    faults.push(outOfRange("together", '"station" or "line"', used.together));
  }
  if (used.together === "station" && (used.draws > 0 || used.ties.length > 0)) {
    faults.push(outOfRange("together", '"line" where draws or ties are asked for', used.together));
  }
  if (used.priorMean_ohm_m !== null && !(used.priorMean_ohm_m > 0)) {
    faults.push(outOfRange("priorMean_ohm_m", "null or over 0", used.priorMean_ohm_m));
  }
  if (used.strengths !== "found" && used.strengths !== "given") {
    faults.push(outOfRange("strengths", '"found" or "given"', used.strengths));
  }
  faults.push(...tieFaults(campaign, used.ties));
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

/** A tie that no station could hold is a fault: nothing that was given is dropped in silence. */
function tieFaults(campaign: Campaign, ties: readonly DepthTie[]): Fault[] {
  const walked = campaign.passes.flatMap((pass) =>
    [...pass.chainage_m].filter((x) => !Number.isNaN(x)),
  );
  const first = walked.reduce((least, x) => Math.min(least, x), Number.POSITIVE_INFINITY);
  const last = walked.reduce((most, x) => Math.max(most, x), Number.NEGATIVE_INFINITY);
  const walk = `a chainage within the walk, ${first.toFixed(0)} to ${last.toFixed(0)} m`;
  return ties.flatMap((tie, k) => {
    const faults: Fault[] = [];
    if (!(tie.chainage_m >= first && tie.chainage_m <= last)) {
      faults.push(outOfRange(`ties[${k}].chainage_m`, walk, tie.chainage_m));
    }
    if (!(tie.top_m >= 0 && tie.base_m > tie.top_m)) {
      const received = `${tie.top_m} to ${tie.base_m}`;
      faults.push(outOfRange(`ties[${k}]`, "depths with 0 ≤ top < base", received));
    }
    for (const name of ["resistivity_ohm_m", "log10Sd"] as const) {
      if (!(tie[name] > 0)) faults.push(outOfRange(`ties[${k}].${name}`, "over 0", tie[name]));
    }
    return faults;
  });
}

function outOfRange(name: string, expected: string, received: unknown): Fault {
  return {
    code: "option-range",
    path: `options.${name}`,
    expected,
    received: quoted(received),
  };
}
