import { choiceOption, customOption, progressOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { numberFault } from "../step/options/option-fault.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { Fault } from "../step/step-error.js";
import type { Campaign } from "../survey/survey.js";
import { walkedRange } from "./data/gather-stations.js";
import type { SliceDepths } from "./slices/slice-weights.js";

/** Resistivity of a column between two depths as a borehole or a resistivity section gives it. */
export interface DepthTie {
  readonly chainage_m: number;
  readonly top_m: number;
  /** m, below the top. */
  readonly base_m: number;
  /** Mean (of the logarithm) between the depths, at field temperature, ohm-m. */
  readonly resistivity_ohm_m: number;
  /** Standard deviation of its log10, above 0. */
  readonly log10Sd: number;
}

const positive = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, above: 0, unit, meaning });

const share = (value: number, meaning: string) =>
  numberOption({ default: value, above: 0, below: 1, meaning });

const deviation = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, from: 0, unit, meaning });

export const depthOptions = {
  spacing_m: positive(2, "m", "Spacing of stations along chainage."),
  layerTops_m: customOption<readonly number[]>({
    default: Object.freeze([0, 0.25, 0.5, 0.75, 1, 1.3, 1.6, 2, 2.4, 2.8, 3.3, 3.9, 4.6, 5.5, 7]),
    rule: "at least three depths, rising from 0 m",
    holds: isRisingFromZero,
    unit: "m",
    shown: (tops) => [...tops],
    meaning: "Depths of the tops of the model's layers; the last layer has no base.",
  }),
  slices: customOption<"auto" | readonly SliceDepths[]>({
    default: "auto",
    rule: '"auto", or a list of slices with 0 <= top_m < base_m',
    holds: (slices) => slices === "auto" || (Array.isArray(slices) && slices.length > 0),
    faults: (slices, path) => eachOf(slices, path, intervalFaults),
    unit: "m",
    shown: (slices) =>
      slices === "auto" ? slices : slices.map(({ top_m, base_m }) => ({ top_m, base_m })),
    meaning:
      'Depth slices to hand on; "auto": one for each independent level that the readings hold, cut ' +
      "where they tell most of them.",
  }),
  proportionalNoise: share(
    0.02,
    "Noise as a share of the value that averaging does not lower: it differs from station to station " +
      "and channel to channel. A channel's noise is found from the line, 0.15 to 6 times as large.",
  ),
  floor_ppm: positive(5, "ppm", "Lowest noise of a single reading."),
  shape: choiceOption(["apply", "leave"], {
    default: "apply",
    meaning:
      '"apply": readings are taken as over the bank\'s cross-section, whose slopes lower them, ' +
      'where the survey states it; "leave": as over level ground, such as readings that were ' +
      "simulated over endless layers.",
  }),
  gainSd: numberOr([null], {
    default: null,
    from: 0,
    meaning:
      "Standard deviation of an unknown error of each channel's gain, share of the value; null: " +
      "0.01, or 0.05 where there are ties.",
  }),
  shiftSd_ppm: deviation(
    5,
    "ppm",
    "Standard deviation of an unknown error of each channel's zero; the uncertainty that the drift " +
      "correction left is added.",
  ),
  heightSd_m: deviation(
    0.015,
    "m",
    "Standard deviation of the coils' height about the one stated, common to the channels of a walk.",
  ),
  ties: customOption<readonly DepthTie[]>({
    default: Object.freeze([]),
    rule: "a list of ties, each with 0 <= top_m < base_m, resistivity_ohm_m and log10Sd above 0",
    holds: Array.isArray,
    faults: (ties, path) => eachOf(ties, path, tieFaults),
    role: "data",
    shown: (ties) => ties.map((tie) => ({ ...tie })),
    meaning: "Resistivity between two depths, from boreholes or resistivity sections.",
  }),
  draws: numberOption({
    default: 64,
    from: 0,
    whole: true,
    meaning: "Posterior draws of the slices to hand on for later steps.",
  }),
  seed: numberOption({
    default: 1,
    whole: true,
    meaning: "Seed of the ensemble and of its draws.",
  }),
  sliceSd: share(
    0.12,
    "A slice is reliable where its mean is known to this posterior standard deviation, log10.",
  ),
  channelShare: share(0.5, "Share of the campaign's channels that a station needs."),
  progress: progressOption("Called now and then with the stations done and all stations."),
};

/** Options of `estimateDepthSlices`, resolved. */
export interface DepthOptions extends OptionsOf<typeof depthOptions> {}

export const depthDefaults: DepthOptions = defaultsOf(depthOptions);

function isRisingFromZero(tops: unknown): boolean {
  if (!Array.isArray(tops) || tops.length < 3 || tops[0] !== 0) return false;
  return tops.every((top, j) => Number.isFinite(top) && (j === 0 || top > tops[j - 1]));
}

type Check = (one: unknown, path: string) => readonly Fault[];

function eachOf(list: unknown, path: string, faults: Check): readonly Fault[] {
  return Array.isArray(list) ? list.flatMap((one, k) => faults(one, `${path}[${k}]`)) : [];
}

function intervalFaults(given: unknown, path: string): readonly Fault[] {
  const { top_m = Number.NaN, base_m = Number.NaN } = (given ?? {}) as Partial<SliceDepths>;
  if (top_m >= 0 && base_m > top_m) return [];
  const received = `${top_m} to ${base_m}`;
  return [{ code: "option-range", path, expected: "depths with 0 <= top_m < base_m", received }];
}

function tieFaults(tie: unknown, path: string): readonly Fault[] {
  const { resistivity_ohm_m, log10Sd } = (tie ?? {}) as Partial<DepthTie>;
  return [
    ...intervalFaults(tie, path),
    ...POSITIVE.faults(resistivity_ohm_m, `${path}.resistivity_ohm_m`),
    ...POSITIVE.faults(log10Sd, `${path}.log10Sd`),
  ];
}

const POSITIVE = positive(1, "", "A value of a tie.");

/** Faults of a campaign, and of options that the campaign or another option rules out. */
export function depthInputFaults(campaign: Campaign, used: DepthOptions): Fault[] {
  const faults: Fault[] = [];
  const [first, last] = walkedRange(campaign);
  if (first > last) {
    faults.push({
      code: "no-positions",
      path: `campaign ${campaign.label}`,
      expected: "a campaign with at least one reading that has a position",
      received: "none",
    });
  }
  const rule = `a chainage within the walk, ${first.toFixed(0)} to ${last.toFixed(0)} m`;
  for (const [k, { chainage_m }] of used.ties.entries()) {
    if (chainage_m >= first && chainage_m <= last) continue;
    faults.push(numberFault(chainage_m, `options.ties[${k}].chainage_m`, rule));
  }
  return faults;
}
