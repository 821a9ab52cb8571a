import type { Masked, SetAsideStretch } from "./masked.js";

/** "all 20", "18 of 20: not q_60k_hcp, i_25k_vcp", or the few that show it. */
export function channelsText(shown: readonly string[], all: readonly string[]): string {
  if (shown.length === 0) return "none";
  const others = all.filter((field) => !shown.includes(field));
  if (others.length === 0) return `all ${all.length}`;
  const count = `${shown.length} of ${all.length}`;
  return others.length < shown.length
    ? `${count}: not ${others.join(", ")}`
    : `${count}: ${shown.join(", ")}`;
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
