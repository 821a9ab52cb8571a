import type { Basis } from "../../step/step-account.js";
import type { PlaceOptions } from "../options.js";
import type { CampaignPlacement } from "../place-campaign.js";
import { isApart, LEAST_APART_M, type PassPair } from "./coregister.js";
import type { NoShift, PassShift } from "./pass-shift.js";

/** Why there is no estimate, and whether it is worth a caution. */
export const REASONS: Readonly<
  Record<NoShift, { readonly text: string; readonly isCaution: boolean }>
> = {
  "other line": { text: "they are of different lines", isCaution: false },
  "no overlap": {
    text: "they share too few channels or less than 150 m of bank",
    isCaution: false,
  },
  unlike: { text: "what they read is too flat, or too unlike", isCaution: true },
  flat: { text: "what they read fits at more than one place, or at none well", isCaution: true },
  beyond: { text: "they fit best more than 5 m apart, which is not believed", isCaution: true },
};

/** Cautions on passes that lie apart, and on passes without an estimate. */
export function coregistrationCautions(
  { coregistration, lagFrom }: CampaignPlacement,
  used: PlaceOptions,
): readonly string[] {
  const { pairs, moved_m, from } = coregistration;
  if (from === "given") {
    return [`passes are moved along the bank as given, by up to ${most(moved_m)} m`];
  }
  const texts = pairs.flatMap((pair) => {
    if (typeof pair.found === "string") return noShiftTexts(pair, pair.found);
    const largest_m = Math.max(...pair.found.shift_m.map(Math.abs));
    if (largest_m < LEAST_APART_M) return [];
    const mayLag = pair.isOpposite && lagFrom !== "passes" && lagFrom !== "pegs";
    return [`${apartText(pair, pair.found)}${actionText(pair.found, from)}${mayLag ? LAG : ""}`];
  });
  const isMiddleOpen = from === "readings" && used.pegs !== "correct";
  const middle =
    "the middle of passes brought together may itself be off by up to " +
    `${most(moved_m)} m; pegs tell`;
  return isMiddleOpen ? [...texts, middle] : texts;
}

const LAG =
  "; they were walked in opposite directions, and a time lag looks the same at a steady pace";

const most = (moved_m: readonly number[]) => Math.max(...moved_m.map(Math.abs)).toFixed(1);

function noShiftTexts({ one, other }: PassPair, reason: NoShift): readonly string[] {
  const { text, isCaution } = REASONS[reason];
  return isCaution
    ? [`whether ${one} and ${other} agree along the bank cannot be told: ${text}`]
    : [];
}

function apartText({ one, other }: PassPair, found: PassShift): string {
  const { shift_m, mean_m, sd_m, correlation, overlap_m } = found;
  const range = shift_m.length > 1 ? ` (from ${least(shift_m)} to ${greatest(shift_m)} m)` : "";
  const way = mean_m >= 0 ? "ahead of" : "behind";
  return (
    `${other} lies ${Math.abs(mean_m).toFixed(1)} ± ${sd_m.toFixed(1)} m ${way} ${one} along the ` +
    `bank${range} by what they read (correlation ${correlation.toFixed(2)} over ` +
    `${overlap_m.toFixed(0)} m)`
  );
}

const least = (values: readonly number[]) => Math.min(...values).toFixed(1);
const greatest = (values: readonly number[]) => Math.max(...values).toFixed(1);

function actionText(found: PassShift, from: "readings" | "left"): string {
  if (!isApart(found)) return "; that is not clear enough to move them";
  return from === "readings"
    ? "; they are brought to their middle"
    : '; passShift_m: "correct" would bring them to their middle';
}

export function coregistrationBasis({ passShift_m }: PlaceOptions): readonly Basis[] {
  if (passShift_m !== "correct") return [];
  const statement =
    "Passes of a campaign that lie apart along the bank by what they read, by " +
    `${LEAST_APART_M} m and four standard deviations, are brought to their middle.`;
  const source =
    "common practice; uncertainty by the scatter of 25 m blocks " +
    "(White 1982, Econometrica 50, 1–25)";
  return [{ statement, source }];
}
