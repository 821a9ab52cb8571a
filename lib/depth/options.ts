import { callbackOption, choiceOption, customOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { numberFault, valueFault } from "../step/options/option-fault.js";
import { defaultsOf } from "../step/options/resolve.js";
import { type Fault, quoted } from "../step/step-error.js";
import type { Campaign } from "../survey/survey.js";
import { walkedRange } from "./data/gather-stations.js";
import { lineNamed, walkedLines } from "./data/walked-lines.js";
import type { SliceDepths } from "./slices/choose-slices.js";

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
  line: customOption<string | null>({
    default: null,
    rule: "the name of a walked line, or null for the main one",
    holds: (line) => line === null || typeof line === "string",
    meaning:
      "Which line of the campaign is read where it holds several that lie apart across the bank, " +
      "such as the crest and the toe: lines are never averaged. Names within 3 m of each other " +
      "are of one line; the main one is the nearest to the centreline.",
  }),
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
      'Depth slices to hand on; "auto": as many, and as thin, as the readings resolve (at most ' +
      "one for each independent level).",
  }),
  proportionalNoise: share(
    0.02,
    "Part of the noise that averaging does not lower, as a share of the value: it differs from " +
      "station to station and channel to channel.",
  ),
  floor_ppm: positive(5, "ppm", "Lowest noise of a single reading."),
  levelSd: positive(1, "ln units", "Prior standard deviation of a column's level."),
  layerSd: positive(0.7, "ln units", "Prior standard deviation of a layer about that level."),
  correlation_m: positive(1, "m", "Prior correlation length of the layers with depth."),
  together: choiceOption(["station", "line", "ensemble"], {
    default: "station",
    meaning:
      '"station": each station is inverted by itself; "line": all stations of a campaign are ' +
      'inverted jointly, with a prior correlation along the bank; "ensemble": each station by ' +
      "draws from a broad ensemble of layered earths, for ground of strong contrast such as a " +
      "dry crust over clay, where the other two are too sure (on trial: most of its intervals " +
      "are wider than stated).",
  }),
  shape: choiceOption(["apply", "leave"], {
    default: "apply",
    meaning:
      '"apply": readings are taken as over the bank\'s cross-section, whose slopes lower them, ' +
      'where the survey states it; "leave": as over level ground, such as readings that were ' +
      "simulated over endless layers.",
  }),
  along_m: positive(
    10,
    "m",
    "Prior correlation length along the bank; where it is found, within half and double of this. " +
      "Small errors that neighbours share would lengthen it without bound otherwise.",
  ),
  priorMean_ohm_m: numberOr([null], {
    default: null,
    above: 0,
    unit: "ohm-m",
    meaning: "Prior mean of resistivity; null: the half-space that fits the readings best.",
  }),
  strengths: choiceOption(["found", "given"], {
    default: "found",
    meaning:
      '"found": the hyperparameters levelSd, layerSd, correlation_m and along_m, and each ' +
      "channel's noise, are those of maximum likelihood of the campaign's readings, the options " +
      'being their prior; "given": as stated.',
  }),
  gainSd: numberOr([null], {
    default: null,
    from: 0,
    meaning:
      "Standard deviation of an unknown error of each channel's gain, the same along the whole " +
      "line, share of the value; null: 0.01, or 0.05 where there are ties.",
  }),
  shiftSd_ppm: deviation(
    0,
    "ppm",
    "Standard deviation of an unknown error of each channel's zero, the same along the line; the " +
      "uncertainty that the drift correction left is added.",
  ),
  walkSd: deviation(
    0.02,
    "",
    "Standard deviation of an error that all channels of a walk share at a place (coil height, a " +
      "position off the other walk's), share of the response.",
  ),
  walkAlong_m: positive(4, "m", "Correlation length of that error along the bank."),
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
    default: 0,
    from: 0,
    whole: true,
    meaning: "Posterior draws of the slices to hand on for later steps.",
  }),
  seed: numberOption({
    default: 1,
    whole: true,
    meaning: "Seed of the draws, also of those that a line's mean and spread are taken over.",
  }),
  sliceSd: share(
    0.12,
    "A slice is reliable where its mean is known to this posterior standard deviation, log10.",
  ),
  channelShare: share(0.5, "Share of the campaign's channels that a station needs."),
  progress: callbackOption<(done: number, total: number) => void>(
    "Called now and then with the stations done and all stations.",
  ),
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
  if (used.line !== null && lineNamed(campaign, used.line) === undefined) {
    const names = walkedLines(campaign).flatMap((line) => line.names);
    faults.push(valueFault(used.line, "options.line", `one of ${names.map(quoted).join(", ")}`));
  }
  if (used.together !== "line" && (used.draws > 0 || used.ties.length > 0)) {
    const rule = '"line" where draws or ties are asked for';
    faults.push(valueFault(used.together, "options.together", rule));
  }
  const rule = `a chainage within the walk, ${first.toFixed(0)} to ${last.toFixed(0)} m`;
  for (const [k, { chainage_m }] of used.ties.entries()) {
    if (chainage_m >= first && chainage_m <= last) continue;
    faults.push(numberFault(chainage_m, `options.ties[${k}].chainage_m`, rule));
  }
  return faults;
}
