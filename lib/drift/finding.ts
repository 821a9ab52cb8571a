import { channelName, channelsByField } from "./channel-name.js";
import type { ChannelDrift, DriftCorrected } from "./drift.js";

/** The finding as a title, without a full stop. */
export function driftFinding(value: DriftCorrected): string {
  const known = value.drift.filter(({ perHour }) => Number.isFinite(perHour));
  if (known.length === 0) return `No base checks tell the drift of campaign ${value.label}`;
  const channels = new Map(channelsByField(value.passes).map((one) => [one.field, one]));
  const unit = channels.get(known[0]!.channel)!.unit;
  const alike = known.filter(({ channel }) => channels.get(channel)!.unit === unit);
  const most = alike.reduce((a, b) => (Math.abs(b.perHour) > Math.abs(a.perHour) ? b : a));
  const rate = `${Math.abs(most.perHour).toFixed(unit === "ppm" ? 0 : 2)} ${unit}/h`;
  const name = channelName(channels.get(most.channel)!);
  return `Drift up to ${rate} (${name}) in campaign ${value.label}; ${stepText(value.drift)}`;
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
