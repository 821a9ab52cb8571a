import type { Campaign } from "../survey/survey.js";
import { channelsByField } from "./channel-name.js";
import type { DriftOptions } from "./drift-options.js";
import { type ChannelFit, fitChannel } from "./fit-channel.js";
import type { Repeat } from "./group-checks.js";

/** Channel field → what its checks say; channels without a check are not in it. */
export type CampaignFits = ReadonlyMap<string, ChannelFit>;

/**
 * The drift of every channel that has checks. A step that one channel shows is an event of the
 * instrument, so a second round looks for it in the other channels with half the least size.
 */
export function fitCampaign(campaign: Campaign, used: Required<DriftOptions>): CampaignFits {
  const search = { ...used, walk_s: walkTimes(campaign) };
  const alone = fitAll(campaign, (repeats) => fitChannel(repeats, { ...search, events_s: [] }));
  const events_s = [...alone.values()].flatMap(({ steps }) => steps.map(({ time_s }) => time_s));
  if (events_s.length === 0) return alone;
  return fitAll(campaign, (repeats) => fitChannel(repeats, { ...search, events_s }));
}

function fitAll(
  campaign: Campaign,
  fitOne: (repeats: readonly Repeat[]) => ChannelFit,
): Map<string, ChannelFit> {
  const fits = new Map<string, ChannelFit>();
  for (const { field } of channelsByField(campaign.passes)) {
    const repeats = repeatsOf(campaign, field);
    if (repeats.length > 0) fits.set(field, fitOne(repeats));
  }
  return fits;
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
