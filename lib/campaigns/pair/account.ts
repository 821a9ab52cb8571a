import { quantile } from "../../numerics/statistics/robust.js";
import type { StepReport } from "../../step/define-step.js";
import { listText } from "../../step/list-text.js";
import type { Basis } from "../../step/step-account.js";
import { placeText, signedText } from "../ranges.js";
import { type Changes, rangeText } from "./changes.js";
import type { CampaignPair } from "./check-pair.js";
import type { Comparison } from "./compared.js";
import { detectableText, hardlySeenText } from "./detectable-text.js";
import { changesFigure } from "./figures.js";
import type { CompareOptions } from "./options.js";
import { changesTable } from "./tables.js";

/** The account of `compareCampaigns`. */
export function changesReport(
  made: Comparison,
  used: CompareOptions,
  pair: CampaignPair,
): StepReport<Changes> {
  const { value } = made;
  const drawn = value.chainage_m.length > 0 && value.slices.length > 0;
  return {
    value,
    summary: summaryOf(made, used),
    basis: [...BASIS, ...BASIS_OF[value.by ?? "slices"]],
    cautions: cautionsOf(made, used, pair),
    figures: drawn ? [changesFigure(made, used)] : [],
    tables: value.changes.length > 0 ? [changesTable(value)] : [],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Conductivities are compared at 25 °C by the soil temperature of depth and date.",
    source: "Sheets & Hendrickx 1995, corrected in Corwin & Lesch 2005; Ma et al. 2011",
  },
  {
    statement:
      "The later campaign is aligned to the earlier one by the ground's own texture, shift by " +
      "shift along the line, with the shift's uncertainty.",
    source: "Rabiner 1989, Proceedings of the IEEE 77, 257–286 (forward-backward)",
  },
];

const BASIS_OF: Readonly<Record<NonNullable<Changes["by"]>, readonly Basis[]>> = {
  channels: [
    {
      statement:
        "Zero and gain of each channel, the coils' height by walk and the season are fitted to " +
        "all channels at once, with weights that a changed stretch does not move.",
      source: "Huber & Ronchetti 2009, Robust Statistics (iterated weights)",
    },
    {
      statement:
        "Every stretch is tested by the likelihood ratio of a change of the ground in all channels, " +
        "with the noise that stable stretches of its length have; p-values are multiplied by the " +
        "number of stretches tried.",
      source: "Siegmund & Yakir 2000 (scans, from memory); Dunn 1961 (multiplied p-values)",
    },
    {
      statement:
        "A stretch is given to the ground, or to another height or other zeros of the coils, by " +
        "the evidence of each.",
      source: "MacKay 2003, Information Theory, Inference and Learning Algorithms, chapter 28",
    },
    {
      statement:
        "A ratio by depth weighs changes between any two depths over earths that meet the readings.",
      source: "Tarantola 2005, Inverse Problem Theory; Oliver & Chen 2011 (randomised likelihood)",
    },
  ],
  slices: [
    {
      statement:
        "A ratio is freed of what the estimates lose to their prior (averaging kernel), with an " +
        "interval.",
      source:
        "Rodgers 2000, Inverse Methods for Atmospheric Sounding; Gelman et al. 2013, chapter 5",
    },
    {
      statement: "The share of false discoveries is held over all stations and slices.",
      source: "Benjamini & Hochberg 1995; Benjamini & Yekutieli 2001 (positive dependence)",
    },
    {
      statement:
        "Level and scatter come from robust statistics of the stations that did not change.",
      source:
        "Hampel 1974, Journal of the American Statistical Association 69, 383–393; Huber 1964, " +
        "Annals of Mathematical Statistics 35, 73–101",
    },
  ],
};

/** "Two stretches changed from … to …: …", the level and the temperature. */
function summaryOf({ value, corrected }: Comparison, used: CompareOptions): string {
  const { changes, earlier, later } = value;
  if (value.slices.length === 0)
    return `Campaigns ${earlier} and ${later} share no reliable slice.`;
  const places = changes.map(
    (one) =>
      `${one.direction} to ${one.ratio.toFixed(2)} times${rangeText(one)} at ${placeText(one)}`,
  );
  const found =
    changes.length === 0
      ? `No stretch changed from ${earlier} to ${later} beyond the scatter.`
      : `From ${earlier} to ${later} the resistivity ${listText(places)}.`;
  const parts = [found, detectableText(value), shiftText(value), levelText(value, used)];
  return [...parts, temperatureText(corrected)].filter((text) => text !== "").join(" ");
}

function shiftText({ shift_m, earlier, later }: Changes): string {
  if (shift_m === undefined) return "";
  const [low, high] = [quantile(shift_m, 0.05), quantile(shift_m, 0.95)];
  return (
    `${later} was brought to the chainage of ${earlier} by shifts of ${signedText(low, 1)} to ` +
    `${signedText(high, 1)} m along the line.`
  );
}

function levelText({ level }: Changes, { level: rule }: CompareOptions): string {
  if (rule === "none") return "No level between the campaigns was removed.";
  const percent = level.map((value) => `${signedText(100 * (10 ** value - 1), 0)} %`);
  return `A level common to the line was removed by slice: ${percent.join(", ")}.`;
}

const temperatureText = (corrected: boolean) =>
  corrected ? "Both were taken to 25 °C." : "Temperature was not corrected.";

function cautionsOf(made: Comparison, used: CompareOptions, pair: CampaignPair): readonly string[] {
  const { value, corrected, cautions } = made;
  if (value.slices.length === 0) {
    return ["Nothing was compared: no depth slice is reliable in both campaigns."];
  }
  if (value.log10Ratio.every((column) => column.every(Number.isNaN))) {
    return ["Nothing was compared: no station has an estimate in both campaigns."];
  }
  return [
    ...(corrected ? [] : [temperatureCaution(pair)]),
    ...(used.level === "majority" ? [LEVEL_CAUTION[value.by ?? "slices"]] : []),
    ...cautions,
    ...hardlySeenText(value),
    ...unknownCautions(value),
  ];
}

const LEVEL_CAUTION: Readonly<Record<NonNullable<Changes["by"]>, string>> = {
  channels:
    "A change of the whole line is not seen: what is common to the line was removed from each " +
    "channel.",
  slices:
    "A change of the whole line is not seen: the level of the stable majority was removed from " +
    "each slice.",
};

function temperatureCaution({ earlier, later }: CampaignPair): string {
  const lacking = [earlier, later]
    .filter((one) => one.soilTemperature.length === 0)
    .map((one) => one.campaign);
  const why =
    lacking.length > 0
      ? `no soil temperature for ${listText(lacking)}`
      : "the soil temperatures do not reach both dates";
  return (
    `Resistivities were compared at field temperature: ${why}. Conductivity rises about 2 % a ` +
    "degree."
  );
}

function unknownCautions({ unknown }: Changes): string[] {
  const length = unknown.reduce((sum, one) => sum + one.to_m - one.from_m, 0);
  if (!(length > 0)) return [];
  return [
    `${length.toFixed(0)} m of the line are unknown, not unchanged: one of the campaigns has ` +
      "no estimate there.",
  ];
}
