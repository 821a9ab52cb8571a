import { entryOf } from "../numerics/arrays.js";
import { channelText } from "../survey/channel-words.js";
import { channelMap } from "./channels.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";

/** The finding as a title, without a full stop: the fastest drift of the first channel's unit. */
export function driftFinding({ label, passes, drift }: DriftCorrected): string {
  const channels = channelMap(passes);
  const known = drift
    .filter(({ perHour }) => Number.isFinite(perHour))
    .map(({ channel, perHour }) => ({ channel: entryOf(channels, channel), perHour }));
  const [first] = known;
  if (first === undefined) return `No base checks tell the drift of campaign ${label}`;
  const { unit } = first.channel;
  const most = known
    .filter(({ channel }) => channel.unit === unit)
    .reduce((a, b) => (Math.abs(b.perHour) > Math.abs(a.perHour) ? b : a));
  const rate = `${Math.abs(most.perHour).toFixed(unit === "ppm" ? 0 : 2)} ${unit}/h`;
  const where = `(${channelText(most.channel)}) in campaign ${label}`;
  return `Drift up to ${rate} ${where}; ${stepText(drift)}`;
}

function stepText(drift: readonly ChannelDrift[]): string {
  const times = stepTimes(drift);
  if (times.length === 0) return "no step";
  const clock = times.map((time_s) => new Date(time_s * 1000).toISOString().slice(11, 16));
  const word = times.length === 1 ? "one step" : `${times.length} steps`;
  return `${word} at ${clock.join(", ")} UTC`;
}

/** Times of the steps of all channels, those within a quarter of an hour taken as one. */
export function stepTimes(drift: readonly ChannelDrift[]): readonly number[] {
  const all = drift.flatMap(({ steps }) => steps.map(({ time_s }) => time_s));
  const times: number[] = [];
  for (const time_s of [...all].sort((a, b) => a - b)) {
    if (!(time_s - (times.at(-1) ?? Number.NEGATIVE_INFINITY) <= 900)) times.push(time_s);
  }
  return times;
}
