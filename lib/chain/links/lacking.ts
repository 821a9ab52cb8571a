import type { Campaign, Survey } from "../../survey/survey.js";

/** "tell drift from the ground (2031-10)" where campaigns lack something; "" where none does. */
export function without(
  { campaigns }: Survey,
  lacks: (campaign: Campaign) => boolean,
  text: string,
): string {
  const labels = campaigns.filter(lacks).map(({ label }) => label);
  return labels.length === 0 ? "" : `${text} (${labels.join(", ")})`;
}

/** What several lacks come to; "" where nothing is lacking. */
export function allOf(...parts: readonly string[]): string {
  return parts.filter((part) => part !== "").join("; ");
}
