import { channelsText } from "../survey/channel-words.js";
import type { Channel } from "../survey/survey.js";
import type { Masked, SetAsideStretch } from "./masked.js";

/**
 * The channels that show something, of all: "all 20", "18 of 20: not quadrature, 25 and 60 kHz, HCP,
 * 1.8 m", or the few that show it.
 */
export function shownText(shown: readonly string[], all: readonly Channel[]): string {
  const own = all.filter(({ field }) => shown.includes(field));
  if (own.length === 0) return "none";
  const others = all.filter((channel) => !own.includes(channel));
  if (others.length === 0) return `all ${all.length}`;
  const named = others.length < own.length ? `not ${channelsText(others)}` : channelsText(own);
  return `${own.length} of ${all.length}: ${named}`;
}

export function causeWords({ cause }: Pick<SetAsideStretch, "cause">): string {
  return { documented: "noted", detected: "seen", both: "noted and seen" }[cause];
}

const FEW = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"];

/** "Eight stretches set aside, 6.1 % of the readings; two of them nobody noted". */
export function maskFinding(value: Masked): string {
  const count = value.interference.length;
  if (count === 0) {
    return `No stretch of campaign ${value.label} is set aside as disturbed by metal`;
  }
  const share = `${sharePct(value).toFixed(1)} % of the readings`;
  const unnoted = value.unexplained.length;
  const tail =
    unnoted === 0 ? "all of them noted" : `${word(unnoted).toLowerCase()} of them nobody noted`;
  const noun = count === 1 ? "stretch" : "stretches";
  return `${word(count)} ${noun} of campaign ${value.label} set aside, ${share}; ${tail}`;
}

function word(count: number): string {
  return FEW[count] ?? String(count);
}

/** Readings that the stretches set aside, % of all readings of the campaign. */
export function sharePct({ passes, interference }: Masked): number {
  const readings = passes.reduce((sum, { count }) => sum + count, 0);
  const aside = interference.reduce((sum, one) => sum + one.readings, 0);
  return readings > 0 ? (100 * aside) / readings : 0;
}
