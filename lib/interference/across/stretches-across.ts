import type { Masked, SetAsideStretch } from "../masked.js";

/** One disturbed stretch in the light of every campaign. */
export interface InterferenceAcross {
  readonly from_m: number;
  readonly to_m: number;
  /** The noted objects; "" where nothing was noted in any campaign. */
  readonly object: string;
  /** True where an object along the line shifts the stretch as a whole in some campaign. */
  readonly along: boolean;
  /** Labels of the campaigns that show it, in their order. */
  readonly seenIn: readonly string[];
  /** Labels of the campaigns that read the stretch and show nothing there. */
  readonly absentIn: readonly string[];
  /** "fixed": in every campaign that read it; "came": not before some campaign; "went"; "both". */
  readonly verdict: "fixed" | "came" | "went" | "came and went" | "read once";
}

/** Stretches of two campaigns this near are of one object, m. */
const NEAR_M = 4;

/** One entry a stretch in the light of all campaigns, by chainage. */
export function stretchesAcross(campaigns: readonly Masked[]): readonly InterferenceAcross[] {
  return gathered(campaigns).map((stretches) => across(stretches, campaigns));
}

/** Stretches of all campaigns, those near each other together, by chainage. */
function gathered(campaigns: readonly Masked[]): readonly (readonly SetAsideStretch[])[] {
  const sorted = campaigns
    .flatMap(({ interference }) => interference)
    .sort((a, b) => a.from_m - b.from_m || a.to_m - b.to_m);
  const groups: { to_m: number; readonly stretches: SetAsideStretch[] }[] = [];
  for (const one of sorted) {
    const group = groups.at(-1);
    if (group !== undefined && one.from_m <= group.to_m + NEAR_M) {
      group.stretches.push(one);
      group.to_m = Math.max(group.to_m, one.to_m);
    } else groups.push({ to_m: one.to_m, stretches: [one] });
  }
  return groups.map(({ stretches }) => stretches);
}

function across(
  stretches: readonly SetAsideStretch[],
  campaigns: readonly Masked[],
): InterferenceAcross {
  const from_m = Math.min(...stretches.map((one) => one.from_m));
  const to_m = Math.max(...stretches.map((one) => one.to_m));
  const shows = ({ label }: Masked) => stretches.some(({ campaign }) => campaign === label);
  const reads = ({ passes }: Masked) =>
    passes.some(({ chainage_m }) => chainage_m.some((x) => x >= from_m && x <= to_m));
  const absent = (one: Masked) => !shows(one) && reads(one);
  const objects = new Set(stretches.map(({ object }) => object).filter((name) => name !== ""));
  return {
    from_m,
    to_m,
    object: [...objects].join(", "),
    along: stretches.some(({ along }) => along === true),
    seenIn: campaigns.filter(shows).map(({ label }) => label),
    absentIn: campaigns.filter(absent).map(({ label }) => label),
    verdict: verdictOf(campaigns.map(shows), campaigns.map(absent)),
  };
}

/**
 * From whether each campaign, in order, shows the stretch, and whether it reads and does not show
 * it.
 */
function verdictOf(
  seen: readonly boolean[],
  absent: readonly boolean[],
): InterferenceAcross["verdict"] {
  if (!absent.includes(true)) return seen.filter(Boolean).length > 1 ? "fixed" : "read once";
  const came = absent.indexOf(true) < seen.indexOf(true);
  const went = absent.lastIndexOf(true) > seen.lastIndexOf(true);
  if (came === went) return "came and went";
  return came ? "came" : "went";
}
