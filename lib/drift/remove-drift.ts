import type { Campaign } from "../survey/survey.js";
import { type JudgedDrift, passWithoutDrift } from "./apply-drift.js";
import { channelsByField } from "./channels.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";
import { judgeDrift } from "./judge-drift.js";
import { type CampaignFits, fitCampaign } from "./models/fit-campaign.js";
import type { DriftOptions } from "./options.js";
import { passWithoutZero, withoutOwnDrift } from "./zero/apply-zero.js";
import type { HeightReading } from "./zero/height-readings.js";
import { zeroLevel } from "./zero/zero-level.js";

/** The campaign without its drift, and the fits that show it. */
export interface RemovedDrift {
  readonly value: DriftCorrected;
  readonly fits: CampaignFits;
}

/** Fits the drift of every channel and takes it off where it is significant. */
export function removedDrift(campaign: Campaign, used: DriftOptions): RemovedDrift {
  const fits = fitCampaign(campaign, used);
  const drift = channelsByField(campaign.passes).map(({ field }) =>
    judgeDrift({ campaign: campaign.label, channel: field }, fits.get(field), used),
  );
  const judged = judgedDrifts(drift, fits);
  const passes = campaign.passes.map((pass) => passWithoutDrift(pass, judged));
  const value = { ...campaign, passes, drift };
  if (used.heightTest === null) return { value, fits };
  return { value: levelled(value, used.heightTest, judged), fits };
}

function judgedDrifts(
  drift: readonly ChannelDrift[],
  fits: CampaignFits,
): ReadonlyMap<string, JudgedDrift> {
  return new Map(
    drift.flatMap(({ channel, model }) => {
      const fit = fits.get(channel);
      if (fit === undefined) return [];
      const { chosen, unevenness } = fit;
      const curve = model === "none" ? null : (chosen?.curve ?? null);
      const left = chosen?.model === "average" ? chosen.curve : null;
      return [[channel, { curve, left, unevenness }] as const];
    }),
  );
}

/** The zero levels of a height test taken off, its own drift first. */
function levelled(
  value: DriftCorrected,
  readings: readonly HeightReading[],
  judged: ReadonlyMap<string, JudgedDrift>,
): DriftCorrected {
  const still = readings.map((one) => withoutOwnDrift(one, judged));
  const found = zeroLevel(still, channelsByField(value.passes));
  const passes = value.passes.map((pass) => passWithoutZero(pass, found.channels));
  return { ...value, passes, zeroLevel: found };
}
