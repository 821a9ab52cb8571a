import type { Accounting } from "../result/account.js";
import type { Campaign, Pass } from "./survey.js";

/** What became of one reading so far. */
export interface Fate {
  readonly fate: "kept" | "corrected" | "set aside";
  /** Why it is set aside, from its first channel; null where it is in use. */
  readonly cause: string | null;
  /** Fields of the channels that are set aside: all of them, some, or none. */
  readonly channels: readonly string[];
}

/**
 * What became of a reading: set aside where no channel is in use, else corrected where a correction
 * changed any of its values, else kept.
 *
 * @param campaign the campaign as a step left it
 * @param passIndex index into `campaign.passes`
 * @param row index of the reading in the pass, 0 … count − 1 (not the line number)
 */
export function fateOf(campaign: Campaign, passIndex: number, row: number): Fate {
  const pass = campaign.passes[passIndex]!;
  const marks = pass.setAside.map((mask) => mask[row]!);
  const channels = pass.instrument.channels
    .map(({ field }) => field)
    .filter((_, c) => marks[c] !== 0);
  if (marks.every((mark) => mark !== 0)) {
    const cause = campaign.causes[marks[0]! - 1]?.text ?? "no channels";
    return { fate: "set aside", cause, channels };
  }
  return { fate: pass.corrected[row] === 1 ? "corrected" : "kept", cause: null, channels };
}

/** Counts every reading of the campaigns once; causes in the order in which they first occur. */
export function accountFor(campaigns: readonly Campaign[]): Accounting {
  const counts = { readings: 0, kept: 0, corrected: 0 };
  const causes = new Map<string, number>();
  for (const campaign of campaigns) {
    for (const [p, pass] of campaign.passes.entries()) {
      counts.readings += pass.count;
      for (let row = 0; row < pass.count; row++) {
        const { fate, cause } = fateOf(campaign, p, row);
        if (cause !== null) causes.set(cause, (causes.get(cause) ?? 0) + 1);
        else if (fate === "corrected") counts.corrected += 1;
        else counts.kept += 1;
      }
    }
  }
  const setAside = [...causes].map(([cause, readings]) => ({ cause, readings }));
  return { ...counts, setAside };
}

/** A copy of a channel's n values with NaN where they are set aside. */
export function usable(pass: Pass, channelIndex: number): Float64Array {
  const mask = pass.setAside[channelIndex]!;
  return pass.values[channelIndex]!.map((value, i) => (mask[i] === 0 ? value : Number.NaN));
}
