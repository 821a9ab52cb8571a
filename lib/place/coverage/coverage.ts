import { zipped } from "../../numerics/arrays.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { fateOf } from "../../survey/account/reading-status.js";
import { campaignsOfAllLines } from "../../survey/all-lines.js";
import type { Campaign, Pass, Survey } from "../../survey/survey.js";
import type { CampaignPlacement } from "../place-campaign.js";
import type { PassPlacement } from "../walk/finish-pass.js";
import { type CoveredStretch, stretchesOf } from "./covered-stretches.js";
import { type WalkedSteps, walkedSteps } from "./walked-steps.js";

/** How one pass covers the bank. */
export interface PassCoverage extends WalkedSteps {
  readonly campaign: string;
  readonly file: string;
  readonly readings: number;
  /** Readings in use. */
  readonly used: number;
  readonly stretches: readonly CoveredStretch[];
  readonly placement: PassPlacement;
  /** Readings without a value by channel, %. */
  readonly channels: readonly { readonly field: string; readonly missing_pct: number }[];
}

/** What each pass covers, campaign by campaign. */
export function coverageOf(
  survey: Survey,
  placements: readonly CampaignPlacement[],
): readonly PassCoverage[] {
  const { centreline } = survey;
  return zipped(campaignsOfAllLines(survey), placements).flatMap(([campaign, placed]) =>
    zipped(campaign.passes, placed.passes).map(([pass, placement], p) => {
      const inUse = pass.corrected.map((_, row) => (isUsed(campaign, p, row) ? 1 : 0));
      return {
        campaign: placed.campaign,
        file: pass.file,
        readings: pass.count,
        used: inUse.reduce((sum, one) => sum + one, 0),
        stretches: stretchesOf(centreline, pass, inUse),
        ...walkedSteps(pass, centreline),
        placement,
        channels: channelsOf(pass),
      };
    }),
  );
}

function isUsed(campaign: Campaign, p: number, row: number): boolean {
  return fateOf(campaign, p, row).fate !== "set aside";
}

function channelsOf({ instrument, values, count }: Pass): PassCoverage["channels"] {
  return zipped(instrument.channels, values).map(([{ field }, column]) => ({
    field,
    missing_pct: (100 * (count - presentCount(column))) / count,
  }));
}
