import { zipped } from "../../numerics/arrays.js";
import type { Campaign } from "../../survey/survey.js";
import { channelsByField } from "../channels.js";
import { channelEvidence, stepsAlone } from "../checks/channel-evidence.js";
import { type Crossover, crossoversOf } from "../checks/crossovers.js";
import { groupVisits, type Repeat } from "../checks/visits.js";
import { sharedPriors } from "../hypotheses/shared-priors.js";
import { type DriftOptions, restartTime } from "../options.js";
import { type ChannelFit, fitChannel } from "./fit-channel.js";

/** Fits by channel field; channels without checks and crossovers are not in it. */
export type CampaignFits = ReadonlyMap<string, ChannelFit>;

/**
 * The drift of every channel that has checks or crossovers. A step of one channel is an event of the
 * instrument, so a second round looks for it in the other channels with half the least size.
 */
export function fitCampaign(campaign: Campaign, used: DriftOptions): CampaignFits {
  const restarts_s = used.restarts.map(restartTime);
  const search = { ...used, walk_s: walkTimes(campaign), restarts_s };
  const given = givenBy(campaign, used);
  const alone = given.flatMap(({ repeats }) => stepsAlone(repeats, { ...search, events_s: [] }));
  const events_s = alone.map(({ time_s }) => time_s);
  const evidence = given.map(({ repeats, crossovers }) =>
    channelEvidence(repeats, crossovers, { ...search, events_s }),
  );
  const priors = sharedPriors(
    evidence.map(({ hypotheses }) => hypotheses),
    used.stepWithin_s / 2,
  );
  const fits = zipped(evidence, priors).map(([own, prior]) => fitChannel(own, used.model, prior));
  return new Map(zipped(given, fits).map(([{ field }, fit]) => [field, fit]));
}

interface Given {
  readonly field: string;
  readonly repeats: readonly Repeat[];
  readonly crossovers: readonly Crossover[];
}

/** With fewer visits than these, crossovers take part. */
const FEW_VISITS = 3;

/** What is given for each channel that has a check or a crossover. */
function givenBy(campaign: Campaign, used: DriftOptions): readonly Given[] {
  const own = channelsByField(campaign.passes).map(({ field }) => {
    const repeats = repeatsOf(campaign, field);
    const { visits } = groupVisits(repeats, used.groupWithin_s);
    const isShort = used.crossings === "auto" && visits.length < FEW_VISITS;
    return { field, repeats, asks: used.crossings === "always" || isShort };
  });
  const all = own.some(({ asks }) => asks) ? crossoversOf(campaign, used) : new Map<string, []>();
  return own
    .map(({ field, repeats, asks }) => {
      return { field, repeats, crossovers: asks ? (all.get(field) ?? []) : [] };
    })
    .filter(({ repeats, crossovers }) => repeats.length + crossovers.length > 0);
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
