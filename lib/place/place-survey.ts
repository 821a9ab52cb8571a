import type { Survey } from "../survey/survey.js";
import type { PlaceOptions } from "./options.js";
import { type CampaignPlacement, placeCampaign } from "./place-campaign.js";

/** A survey whose readings have their places, and how they got them. */
export interface PlacedSurvey {
  readonly survey: Survey;
  /** Campaign by campaign, as in the survey. */
  readonly placements: readonly CampaignPlacement[];
}

/** Places the readings of every campaign as it was read; changes nothing that it was given. */
export function placeSurvey(survey: Survey, options: PlaceOptions): PlacedSurvey {
  const asRead = survey.asRead ?? survey.campaigns;
  const placed = asRead.map((campaign) => placeCampaign(campaign, options));
  return {
    survey: { ...survey, asRead, campaigns: placed.map(({ campaign }) => campaign) },
    placements: placed.map(({ placement }) => placement),
  };
}
