import type { ResistivityLine } from "../../survey/resistivity-line.js";

/** Campaigns of a line's readings, in order of first appearance. */
export function campaignsOf(line: ResistivityLine): (string | null)[] {
  return [...new Set(line.readings.map(({ campaign }) => campaign))];
}

/** The line with the readings of one campaign; of its first one for null. */
export function ofCampaign(line: ResistivityLine, campaign: string | null): ResistivityLine {
  const wanted = campaign ?? campaignsOf(line)[0] ?? null;
  return { ...line, readings: line.readings.filter((one) => one.campaign === wanted) };
}
