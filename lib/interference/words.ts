import type { SetAsideStretch } from "./masked.js";

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
