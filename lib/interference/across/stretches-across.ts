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
  const groups: SetAsideStretch[][] = [];
  let reach_m = Number.NEGATIVE_INFINITY;
  for (const one of sorted) {
    if (one.from_m > reach_m + NEAR_M) groups.push([one]);
    else groups.at(-1)!.push(one);
    reach_m = Math.max(one.to_m, one.from_m > reach_m + NEAR_M ? one.to_m : reach_m);
  }
  return groups;
}

function across(
  stretches: readonly SetAsideStretch[],
  campaigns: readonly Masked[],
): InterferenceAcross {
  const from_m = Math.min(...stretches.map((one) => one.from_m));
  const to_m = Math.max(...stretches.map((one) => one.to_m));
  const seenIn = campaigns
    .map(({ label }) => label)
    .filter((label) => stretches.some(({ campaign }) => campaign === label));
  const absentIn = campaigns
    .filter(({ label }) => !seenIn.includes(label))
    .filter(({ passes }) =>
      passes.some(({ chainage_m }) => chainage_m.some((x) => x >= from_m && x <= to_m)),
    )
    .map(({ label }) => label);
  const objects = new Set(stretches.map(({ object }) => object).filter((name) => name !== ""));
  const order = campaigns.map(({ label }) => label);
  return {
    from_m,
    to_m,
    object: [...objects].join(", "),
    along: stretches.some(({ along }) => along === true),
    seenIn,
    absentIn,
    verdict: verdictOf(seenIn, absentIn, order),
  };
}

function verdictOf(
  seenIn: readonly string[],
  absentIn: readonly string[],
  order: readonly string[],
): InterferenceAcross["verdict"] {
  if (absentIn.length === 0) return seenIn.length > 1 ? "fixed" : "read once";
  const [first, last] = [order.indexOf(seenIn[0]!), order.indexOf(seenIn.at(-1)!)];
  const came = absentIn.some((label) => order.indexOf(label) < first);
  const went = absentIn.some((label) => order.indexOf(label) > last);
  if (came && went) return "came and went";
  if (came) return "came";
  return went ? "went" : "came and went";
}
