import type { Campaign, Survey } from "./survey.js";

/** The readings of every line: campaigns of the main line, then those of the others. */
export function campaignsOfAllLines(survey: Survey): readonly Campaign[] {
  const others = survey.otherLines ?? [];
  return [...survey.campaigns, ...others.flatMap((other) => other.survey.campaigns)];
}
