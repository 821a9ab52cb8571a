import { type Fault, quoted, StepError } from "../../numerics/step-error.js";
import type { Table } from "../../step/figure.js";
import type { Caution } from "../../step/step-account.js";
import { type Given, resultValue, StepResult } from "../../step/step-result.js";
import { accountFor } from "../../survey/account/reading-status.js";
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

/**
 * Sets the disturbed stretches of several campaigns side by side: what stays is a fixed object, what
 * comes or goes was carried there, built or taken away, and nothing can be said about a change of the
 * ground beneath it.
 *
 * Rule: stretches of two campaigns that overlap or lie within 4 m of each other are one. A campaign
 * that has readings within it and sets none of them aside as metal shows nothing there.
 *
 * `campaigns`: what `maskInterference` returned, two or more, in the order of time. Output: one entry a
 * stretch, by chainage. Limits: a stretch that a campaign left unseen because its effect was under the
 * noise counts as absent. Throws StepError for fewer than two campaigns.
 *
 * Source: common practice.
 *
 * @example compareInterference(work.masked).value[0].verdict; // "fixed"
 */
export function compareInterference(
  campaigns: readonly Given<Masked>[],
): StepResult<readonly InterferenceAcross[]> {
  const faults = campaignsFaults(campaigns);
  if (faults.length > 0) throw new StepError("compareInterference", faults);
  const all = campaigns.map(resultValue);
  const value = gathered(all).map((stretches) => across(stretches, all));
  return new StepResult({
    step: "compareInterference",
    summary: summaryOf(value, all.length),
    value,
    used: { campaigns: all.map(({ label }) => label) },
    basis: [
      {
        statement: "An object that stays shows in every campaign; one that does not came or went.",
        source: "common practice",
      },
    ],
    cautions: value.flatMap(cautionsOf),
    accounting: accountFor(all),
    figures: [],
    tables: [tableOf(value)],
  });
}

function campaignsFaults(campaigns: unknown): readonly Fault[] {
  const expected = "two campaigns at least, each as maskInterference returns it";
  const isMasked = (one: unknown) => {
    const value = resultValue(one as Given<Masked>) as Partial<Masked> | undefined;
    return Array.isArray(value?.interference) && Array.isArray(value?.passes);
  };
  const well = Array.isArray(campaigns) && campaigns.length > 1 && campaigns.every(isMasked);
  if (well) return [];
  const received = Array.isArray(campaigns) ? `${campaigns.length} values` : quoted(campaigns);
  return [{ code: "campaigns", path: "campaigns", expected, received }];
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

function summaryOf(value: readonly InterferenceAcross[], campaigns: number): string {
  const fixed = value.filter(({ verdict }) => verdict === "fixed").length;
  const moved = value.filter(({ absentIn }) => absentIn.length > 0).length;
  return `Of ${value.length} disturbed stretches in ${campaigns} campaigns, ${fixed} stay and ${moved} came or went.`;
}

function cautionsOf(one: InterferenceAcross): readonly Caution[] {
  const where = `${one.from_m.toFixed(1)}–${one.to_m.toFixed(1)} m`;
  const what = one.object === "" ? "something that nobody noted" : one.object;
  const texts: string[] = [];
  if (one.absentIn.length > 0) {
    texts.push(
      `${where}: ${what} shows in ${one.seenIn.join(", ")} and not in ${one.absentIn.join(", ")}; a change of the ground there cannot be told from it.`,
    );
  }
  if (one.object === "" && one.verdict === "fixed") {
    texts.push(
      `${where}: every campaign shows metal and no note explains it: a fixed object; look.`,
    );
  }
  return texts.map((text) => ({ step: "compareInterference", text }));
}

function tableOf(value: readonly InterferenceAcross[]): Table {
  return {
    id: "interference-across",
    caption: "Disturbed stretches by campaign: what stays, and what came or went.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "object", label: "Object" },
      { field: "seen", label: "Seen in" },
      { field: "absent", label: "Read, not seen" },
      { field: "verdict", label: "Verdict" },
    ],
    rows: value.map((one) => ({
      from_m: one.from_m,
      to_m: one.to_m,
      object: one.object === "" ? "not noted" : one.object,
      seen: one.seenIn.join(", "),
      absent: one.absentIn.join(", "),
      verdict: one.verdict,
    })),
  };
}
