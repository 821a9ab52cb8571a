import { type Fault, quoted } from "../../numerics/step-error.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Masked } from "../masked.js";
import { acrossReport } from "./account.js";
import { type InterferenceAcross, stretchesAcross } from "./stretches-across.js";

export const acrossStep = defineStep({
  name: "compareInterference",
  options: {},
  faults: campaignsFaults,
  run: stretchesAcross,
  report: acrossReport,
});

/**
 * Sets the disturbed stretches of several campaigns side by side: what stays is a fixed object,
 * what comes or goes was carried there, built or taken away, and a change of the ground beneath it
 * cannot be separated from that.
 *
 * Rule: stretches of two campaigns that overlap or lie within 4 m of each other are one. A campaign
 * that has readings within it and sets none of them aside as metal shows nothing there.
 *
 * @param campaigns - what `maskInterference` returned, two or more, in the order of time.
 * @returns one entry a stretch, by chainage.
 * @throws StepError for fewer than two campaigns.
 * Limits: a stretch that a campaign left unseen because its effect was under the noise counts as
 * absent.
 * Source: common practice.
 * @example compareInterference(work.masked).value[0].verdict; // "fixed"
 */
export function compareInterference(
  campaigns: readonly Given<Masked>[],
): StepResult<readonly InterferenceAcross[]> {
  const values = Array.isArray(campaigns) ? campaigns.map(resultValue) : campaigns;
  return runStep(acrossStep, values as readonly Masked[], {});
}

function campaignsFaults(campaigns: readonly Masked[]): readonly Fault[] {
  const isMasked = (one: Partial<Masked> | undefined) =>
    Array.isArray(one?.interference) && Array.isArray(one?.passes);
  const list: unknown = campaigns;
  const several = Array.isArray(list) && list.length > 1;
  if (several && list.every(isMasked)) return [];
  const expected = "two campaigns at least, each as maskInterference returns it";
  const received = Array.isArray(list) ? `${list.length} values` : quoted(list);
  return [{ code: "campaigns", path: "campaigns", expected, received }];
}
