import { presentCount } from "../../numerics/statistics/present.js";
import type { StepReport } from "../../step/define-step.js";
import { listText } from "../../step/list-text.js";
import type { Basis } from "../../step/step-account.js";
import { placeText } from "../ranges.js";
import { SLICE_LIMITS } from "../slice-limits.js";
import { headFigures } from "./figures.js";
import type { FoundResponse } from "./head-along.js";
import { pairMeans, presentPairs } from "./head-fit.js";
import {
  type HeadResponse,
  pointText,
  type StretchResponse,
  strongestSlice,
} from "./head-response.js";
import type { HeadOptions } from "./options.js";
import { headTable } from "./tables.js";

/** The account of `responseToHead`. */
export function headReport(made: FoundResponse, used: HeadOptions): StepReport<HeadResponse> {
  const { value } = made;
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: cautionsOf(made, used),
    figures: value.stretches.length > 0 ? headFigures(value, used.q) : [],
    tables: value.stretches.some((one) => one.responds) ? [headTable(value)] : [],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "A stretch's slope over the head is tested with a scatter that borrows from the line.",
    source: "Smyth 2004, Statistical Applications in Genetics and Molecular Biology 3, article 3",
  },
  {
    statement: "The share of false discoveries is held over all stretches and slices.",
    source: "Benjamini & Hochberg 1995, Journal of the Royal Statistical Society B 57, 289–300",
  },
];

function summaryOf(value: HeadResponse): string {
  const known = presentCount(value.head_m);
  if (known < 3) {
    return (
      `${known} of ${value.campaigns.length} campaigns have a level of ` +
      `${pointText(value.point)}: too few to tell a response. It takes three, and more to be ` +
      "sure of one."
    );
  }
  const found = value.stretches.filter((one) => one.responds);
  if (found.length === 0) {
    return `Over ${known} campaigns no stretch follows ${pointText(value.point)} beyond chance.`;
  }
  const parts = found.map((one) => {
    const { ratioPerMetre } = strongestSlice(one);
    return `${placeText(one)} (${ratioPerMetre.toFixed(2)} times a metre)`;
  });
  return (
    `Over ${known} campaigns the resistivity follows ${pointText(value.point)} at ` +
    `${listText(parts)}.`
  );
}

function cautionsOf(
  { value, time_s, corrected }: FoundResponse,
  used: HeadOptions,
): readonly string[] {
  const known = presentCount(value.head_m);
  if (known < 3) {
    return [
      "No response was worked out: two campaigns give one difference, which anything else that " +
        "changed between them explains as well.",
    ];
  }
  if (value.stretches.length === 0) {
    return [
      "No response was worked out: the head hardly differs, or no stretch has three campaigns.",
    ];
  }
  const texts: string[] = [];
  if (known < 6) {
    texts.push(
      `${known} campaigns: only a strong response is told from chance, and no lag can be told; ` +
        "the head at the campaign's own time was taken.",
    );
  } else if (value.stretches.some((one) => one.responds && lagOpen(one, used))) {
    texts.push("Where the range of lags is that of all lags tried, the data do not tell the lag.");
  }
  if (Math.abs(correlation(value.head_m, [...time_s])) > 0.8) {
    texts.push(
      "The head rose or fell with time over the campaigns: a trend of the ground looks the same.",
    );
  }
  if (!corrected)
    texts.push("Resistivities are at field temperature: soil temperatures are missing.");
  if (used.level === "majority") {
    texts.push("A response of the whole line is not seen: each campaign's level was removed.");
  }
  if (value.stretches.some((one) => one.responds)) texts.push(SLICE_LIMITS);
  texts.push(
    "A response shows that a stretch wets and dries with the water, not that water passes " +
      "through it; season and rain may go with the head.",
  );
  return texts;
}

function lagOpen(one: StretchResponse, used: HeadOptions): boolean {
  const [low, high] = strongestSlice(one).lagRange_days;
  return low === Math.min(...used.lags_days) && high === Math.max(...used.lags_days);
}

function correlation(one: readonly number[], other: readonly number[]): number {
  const rows = presentPairs(one, other);
  const [a, b] = pairMeans(rows);
  let [xy, xx, yy] = [0, 0, 0];
  for (const [x, y] of rows) {
    xy += (x - a) * (y - b);
    xx += (x - a) ** 2;
    yy += (y - b) ** 2;
  }
  return xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : 0;
}
