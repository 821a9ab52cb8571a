import type { Campaign } from "../../survey/survey.js";
import { channelsByField } from "../channel-name.js";
import { type Crossing, crossingsOf } from "../checks/crossovers.js";
import { groupChecks, type Repeat } from "../checks/group-checks.js";
import { readChannel, stepsAlone } from "../checks/read-channel.js";
import { type DriftOptions, restartTime } from "../options.js";
import { commonTraits } from "./common-traits.js";
import { type ChannelFit, fitChannel } from "./fit-channel.js";

/** Channel field → what its checks and crossings say; channels without either are not in it. */
export type CampaignFits = ReadonlyMap<string, ChannelFit>;

/**
 * The drift of every channel that has checks or crossings. A step that one channel shows is an event of the
 * instrument, so a second round looks for it in the other channels with half the least size.
 */
export function fitCampaign(campaign: Campaign, used: DriftOptions): CampaignFits {
  const restarts_s = used.restarts.map(restartTime);
  const search = { ...used, walk_s: walkTimes(campaign), restarts_s };
  const given = givenBy(campaign, used);
  const alone = given.flatMap(({ repeats }) => stepsAlone(repeats, { ...search, events_s: [] }));
  const events_s = alone.map(({ time_s }) => time_s);
  const reads = given.map(({ repeats, crossings }) =>
    readChannel(repeats, crossings, { ...search, events_s }),
  );
  const traits = commonTraits(
    reads.map(({ stories }) => stories),
    used.stepWithin_s / 2,
  );
  return new Map(
    given.map(({ field }, c) => [field, fitChannel(reads[c]!, used.model, traits[c]!)] as const),
  );
}

interface Given {
  readonly field: string;
  readonly repeats: readonly Repeat[];
  readonly crossings: readonly Crossing[];
}

/** Visits below this number leave a curve so open that crossings are asked too. */
const FEW_VISITS = 3;

/** What is given for each channel that has a check or a crossing. */
function givenBy(campaign: Campaign, used: DriftOptions): readonly Given[] {
  const own = channelsByField(campaign.passes).map(({ field }) => {
    const repeats = repeatsOf(campaign, field);
    const visits = groupChecks(repeats, used.groupWithin_s).groups.length;
    const asks = used.crossings === "always" || (used.crossings === "auto" && visits < FEW_VISITS);
    return { field, repeats, asks };
  });
  const all = own.some(({ asks }) => asks) ? crossingsOf(campaign, used) : new Map<string, []>();
  return own
    .map(({ field, repeats, asks }) => {
      return { field, repeats, crossings: asks ? (all.get(field) ?? []) : [] };
    })
    .filter(({ repeats, crossings }) => repeats.length + crossings.length > 0);
}

/** The channel's repeats at the spot that has most of them. */
function repeatsOf(campaign: Campaign, field: string): readonly Repeat[] {
  const bySpot = new Map<string, Repeat[]>();
  for (const { spot, time_s, values } of campaign.baseChecks) {
    const value = values[field];
    if (value === undefined || !Number.isFinite(value) || !Number.isFinite(time_s)) continue;
    bySpot.set(spot, [...(bySpot.get(spot) ?? []), { time_s, value }]);
  }
  const lists = [...bySpot.values()];
  return lists.reduce((most, list) => (list.length > most.length ? list : most), []);
}

function walkTimes(campaign: Campaign): Float64Array {
  const times = campaign.passes.flatMap((pass) => [...pass.time_s].filter(Number.isFinite));
  return Float64Array.from(times).sort();
}
