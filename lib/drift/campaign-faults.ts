import { type Fault, quoted } from "../step/step-error.js";
import type { Campaign } from "../survey/survey.js";

/** Faults of a value that should be a campaign. */
export function campaignFaults(campaign: unknown): readonly Fault[] {
  const { passes, baseChecks } = (campaign ?? {}) as Partial<Campaign>;
  if (Array.isArray(passes) && Array.isArray(baseChecks)) return [];
  const expected = "a campaign, such as survey.campaigns[0], or a step's result that holds one";
  const hint = "a survey holds several campaigns: give one of them";
  const received = quoted(campaign);
  return [{ code: "not-a-campaign", path: "campaign", expected, received, hint }];
}
