import { responseToHead } from "../campaigns/head/response-to-head.js";
import { trendOverCampaigns } from "../campaigns/trend/trend-over-campaigns.js";
import type { Decision } from "../step/decision.js";
import { decidedOptions } from "./decided-options.js";
import type { Work } from "./work.js";

/** Fewer campaigns than this give neither a slope nor a response. */
export const LEAST_CAMPAIGNS = 3;

/** What three campaigns and more tell beyond each one and the next; empty for fewer. */
export function overCampaigns(
  { survey, slices }: Pick<Work, "survey" | "slices">,
  decisions: readonly Decision[],
): Pick<Work, "trend" | "head"> {
  if (slices.length < LEAST_CAMPAIGNS) return {};
  const trend = trendOverCampaigns(slices, decidedOptions(decisions, "trendOverCampaigns"));
  if (survey.value.waterLevels.length === 0) return { trend };
  const head = responseToHead(slices, survey, decidedOptions(decisions, "responseToHead"));
  return { trend, head };
}
