import { itemAt } from "../../numerics/arrays.js";
import type { Accounting } from "../../step/account.js";
import type { Campaign, Cause, Pass } from "../survey.js";

/** Kinds of causes as an account names them; what each stretch was is in the cause's own text. */
export const CAUSE_NAMES: Readonly<Record<Cause["kind"], string>> = Object.freeze({
  "no position": "no position",
  "no value": "no value",
  "not read": "values that the coils did not read",
  repeated: "averaged or repeated: another reading of the same spot stands for it",
  documented: "metal or structure that was noted",
  detected: "metal that nobody noted",
  both: "metal or structure, noted and seen in the readings",
  noise: "noise",
});

/** What became of one reading so far. */
export interface Fate {
  readonly fate: "kept" | "corrected" | "set aside";
  /** Why it is set aside, from the first channel that had a reading; null where it is in use. */
  readonly cause: string | null;
  /** The kind of that cause; null where the reading is in use. */
  readonly kind: Cause["kind"] | null;
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
  const pass = itemAt(campaign.passes, passIndex);
  const marks = pass.setAside.map((mask) => itemAt(mask, row));
  const channels = pass.instrument.channels
    .map(({ field }) => field)
    .filter((_, c) => marks[c] !== 0);
  if (marks.every((mark) => mark !== 0)) {
    const cause = tellingCause(marks.map((mark) => campaign.causes[mark - 1]));
    const { text, kind } = cause ?? { text: "no channels", kind: "no value" as const };
    return { fate: "set aside", cause: text, kind, channels };
  }
  const fate = pass.corrected[row] === 1 ? "corrected" : "kept";
  return { fate, cause: null, kind: null, channels };
}

/** That of a channel without a reading says the least of the row. */
function tellingCause(causes: readonly (Cause | undefined)[]): Cause | undefined {
  return (
    causes.find((cause) => cause?.kind !== "no value" && cause?.kind !== "not read") ?? causes[0]
  );
}

/**
 * Counts every reading of the campaigns once, by kind of cause in the order in which they occur.
 */
export function accountFor(campaigns: readonly Campaign[]): Accounting {
  const counts = { readings: 0, kept: 0, corrected: 0 };
  const causes = new Map<Cause["kind"], number>();
  for (const campaign of campaigns) {
    for (const [p, pass] of campaign.passes.entries()) {
      counts.readings += pass.count;
      for (let row = 0; row < pass.count; row++) {
        const { fate, kind } = fateOf(campaign, p, row);
        if (kind !== null) causes.set(kind, (causes.get(kind) ?? 0) + 1);
        else if (fate === "corrected") counts.corrected += 1;
        else counts.kept += 1;
      }
    }
  }
  const setAside = [...causes].map(([kind, readings]) => ({ cause: CAUSE_NAMES[kind], readings }));
  return { ...counts, setAside };
}

/** A copy of a channel's n values with NaN where they are set aside. */
export function usable(pass: Pass, channelIndex: number): Float64Array {
  const mask = itemAt(pass.setAside, channelIndex);
  return itemAt(pass.values, channelIndex).map((value, i) => (mask[i] === 0 ? value : Number.NaN));
}
