import type { Campaign, OtherLine, Survey } from "../survey/survey.js";
import { findLines, type WalkedLineSize } from "./lines/find-lines.js";
import { chosenFirst } from "./lines/main-line.js";
import { readingsOfLine } from "./lines/readings-of-line.js";
import type { PlaceOptions } from "./options.js";
import { type CampaignPlacement, type PlacedCampaign, placeCampaign } from "./place-campaign.js";

/** A survey whose readings have their places, and how they got them. */
export interface PlacedSurvey {
  readonly survey: Survey;
  /**
   * Campaign by campaign, as in `campaignsOfAllLines`; with the line's name where there are
   * several.
   */
  readonly placements: readonly CampaignPlacement[];
  /** The lines that were walked, the main one first; empty where there is one. */
  readonly lines: readonly WalkedLineSize[];
}

/**
 * Places the readings of every campaign as it was read; changes nothing that it was given. Where
 * several lines were walked, each is placed as if it had been walked alone.
 */
export function placeSurvey(survey: Survey, options: PlaceOptions): PlacedSurvey {
  const asRead = survey.asRead ?? survey.campaigns;
  const read = { ...survey, asRead };
  const together = asRead.map((campaign) => placeCampaign(campaign, options));
  const found = findLines(together.map(({ campaign }) => campaign));
  const lines = chosenFirst(found, options.line);
  if (lines.length === 0) {
    const placements = together.map(({ placement }) => placement);
    return { survey: { ...read, campaigns: campaignsOf(together) }, placements, lines };
  }
  const placed = lines.map((line) => ({
    line,
    made: readingsOfLine(asRead, line).map((campaign) => placeCampaign(campaign, options)),
  }));
  return {
    survey: withLines(
      read,
      placed.map(({ line: { line, offset_m }, made }) => {
        return { line, offset_m, survey: { ...read, campaigns: campaignsOf(made) } };
      }),
    ),
    placements: placed.flatMap(({ line, made }) =>
      made.map(({ placement }) => ({
        ...placement,
        campaign: `${placement.campaign}, ${line.line}`,
      })),
    ),
    lines,
  };
}

function campaignsOf(placed: readonly PlacedCampaign[]): readonly Campaign[] {
  return placed.map(({ campaign }) => campaign);
}

/** The survey of the first line, with the others beside it. */
function withLines(read: Survey, [main, ...otherLines]: readonly OtherLine[]): Survey {
  if (main === undefined) return read;
  const { line, offset_m } = main;
  return { ...main.survey, walkedLine: { line, offset_m }, otherLines };
}
