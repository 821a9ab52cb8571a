import { entryOf } from "../numerics/arrays.js";
import { Remembered } from "../step/remembered.js";
import type { Campaign } from "../survey/survey.js";
import { passWithoutDrift } from "./apply-drift.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";
import { type JudgedDrift, judgeDrift } from "./judge-drift.js";
import { type CampaignFits, fitCampaign, walkTimes } from "./models/fit-campaign.js";
import type { DriftOptions } from "./options.js";
import { type Spell, spellsOf } from "./untold-drift.js";
import { levelled } from "./zero/apply-zero.js";

/** The campaign without its drift, the fits that show it, and what became of each channel. */
export interface RemovedDrift {
  readonly value: DriftCorrected;
  readonly fits: CampaignFits;
  readonly judged: ReadonlyMap<string, JudgedDrift>;
  /** Times of work with no long silence in them. */
  readonly spells: readonly Spell[];
}

/** Fits the drift of every channel and takes it off where it is significant. */
export function removedDrift(campaign: Campaign, used: DriftOptions): RemovedDrift {
  const fits = fitsOf(campaign, used);
  const spells = spellsOf(walkTimes(campaign), fits);
  const judged = new Map(
    Array.from(fits, ([channel, fit]) => [channel, judgeDrift(fit, used, spells)] as const),
  );
  const drift = Array.from(fits, ([channel, { estimate }]): ChannelDrift => {
    const { model, reason } = entryOf(judged, channel);
    return { campaign: campaign.label, channel, model, reason, ...estimate };
  });
  const passes = campaign.passes.map((pass) => passWithoutDrift(pass, judged));
  const value = { ...campaign, passes, drift };
  const { heightTest } = used;
  const taken = heightTest === null ? value : levelled(value, heightTest, judged);
  return { value: taken, fits, judged, spells };
}

/** Fits of the campaigns that were looked at last: what a drift has to show does not enter them. */
const fitted = new Remembered<CampaignFits>(2);

function fitsOf(campaign: Campaign, used: DriftOptions): CampaignFits {
  const { evidence: _, heightTest: __, ...others } = used;
  return fitted.of([campaign], JSON.stringify(others), () => fitCampaign(campaign, used));
}
