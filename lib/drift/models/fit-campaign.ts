import { groupedBy, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../../survey/survey.js";
import { channelsByField } from "../channels.js";
import { channelEvidence, type Observations } from "../checks/channel-evidence.js";
import { crossoversOf } from "../checks/crossovers.js";
import { findSteps } from "../checks/find-steps.js";
import { groupVisits, type Repeat } from "../checks/visits.js";
import { walkNoise } from "../checks/walk-noise.js";
import { sharedPriors } from "../hypotheses/shared-priors.js";
import { type DriftOptions, restartTime } from "../options.js";
import { type ChannelFit, fitChannel } from "./fit-channel.js";

/** The fit of each channel by its field, in the order of the passes and their channels. */
export type CampaignFits = ReadonlyMap<string, ChannelFit>;

/**
 * The drift of every channel. A step of one channel is an event of the
 * instrument, so a second round looks for it in the other channels with half the least size.
 */
export function fitCampaign(campaign: Campaign, used: DriftOptions): CampaignFits {
  const restarts_s = used.restarts.map(restartTime);
  const search = { ...used, walk_s: walkTimes(campaign), restarts_s };
  const observed = observationsOf(campaign, used);
  const alone = observed.flatMap(({ checks }) =>
    findSteps(checks.visits, { ...search, events_s: [] }),
  );
  const events_s = alone.map(({ time_s }) => time_s);
  const evidence = observed.map((own) => channelEvidence(own, { ...search, events_s }));
  const priors = sharedPriors(
    evidence.map(({ hypotheses }) => hypotheses),
    used.stepWithin_s / 2,
  );
  const fits = zipped(evidence, priors).map(([own, prior]) => fitChannel(own, used.model, prior));
  return new Map(zipped(observed, fits).map(([{ field }, fit]) => [field, fit]));
}

/** With fewer visits than these, crossovers take part. */
const FEW_VISITS = 3;

function observationsOf(
  campaign: Campaign,
  used: DriftOptions,
): readonly (Observations & { readonly field: string })[] {
  const noiseOf = walkNoise(campaign.passes);
  const own = channelsByField(campaign.passes).map(({ field }) => {
    const noiseAt = (value: number) => noiseOf(field, value);
    const rule = { within_s: used.groupWithin_s, noiseAt };
    const checks = groupVisits(repeatsOf(campaign, field), rule);
    const isShort = used.crossings === "auto" && checks.visits.length < FEW_VISITS;
    const unseen = used.unseenDrift * noiseAt(typicalValue(campaign, field)) || 0;
    return { field, checks, unseen, asks: used.crossings === "always" || isShort };
  });
  const all = own.some(({ asks }) => asks) ? crossoversOf(campaign, used) : new Map<string, []>();
  return own.map(({ asks, ...one }) => {
    return { ...one, crossovers: asks ? (all.get(one.field) ?? []) : [] };
  });
}

/** The channel's repeats at the spot that has most of them. */
function repeatsOf({ baseChecks }: Campaign, field: string): readonly Repeat[] {
  const repeats = baseChecks.flatMap(({ spot, time_s, values }) => {
    const value = values[field] ?? Number.NaN;
    return Number.isFinite(value) && Number.isFinite(time_s) ? [{ spot, time_s, value }] : [];
  });
  const lists = [...groupedBy(repeats, ({ spot }) => spot).values()];
  return lists.reduce((most, list) => (list.length > most.length ? list : most), []);
}

/** The channel's middle reading along the walks. */
function typicalValue({ passes }: Campaign, field: string): number {
  const columns = passes.flatMap(({ instrument, values }) =>
    values.filter((_, c) => instrument.channels[c]?.field === field),
  );
  return median(columns.map(median));
}

export function walkTimes(campaign: Campaign): Float64Array {
  const times = campaign.passes.flatMap((pass) => [...pass.time_s].filter(Number.isFinite));
  return Float64Array.from(times).sort();
}
