import type { Survey } from "./survey.js";

/** A level counts for a day's work when it was read within so many days. */
const NEAR_DAYS = 7;
const DAY_S = 86_400;

/**
 * The river's level at a campaign: the one read nearest to the campaign's first reading, within
 * seven days of it; NaN where none was, or where the survey has no such campaign.
 */
export function riverLevelAt(
  survey: Pick<Survey, "campaigns" | "waterLevels">,
  campaign: string,
): number {
  const own = survey.campaigns.find(({ label }) => label === campaign);
  const time_s = own?.passes[0]?.time_s.find((time) => !Number.isNaN(time)) ?? Number.NaN;
  const near = survey.waterLevels
    .filter(({ point }) => point === "river")
    .map(({ level_m, time_s: read_s }) => ({ level_m, apart: Math.abs(read_s - time_s) }))
    .filter(({ apart }) => apart <= NEAR_DAYS * DAY_S)
    .sort((one, other) => one.apart - other.apart);
  return near[0]?.level_m ?? Number.NaN;
}
