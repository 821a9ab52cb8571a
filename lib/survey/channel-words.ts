import { firstOf, groupedBy } from "../numerics/arrays.js";
import { listText } from "../step/list-text.js";
import type { Channel } from "./survey.js";

/** What a channel states, in words. */
export const KIND_WORDS: Readonly<Record<Channel["kind"], string>> = Object.freeze({
  quadrature: "quadrature",
  inphase: "in-phase",
  conductivity: "conductivity",
});

/** Coils in words, such as "HCP, 1.8 m": the separation tells channels apart as all else does. */
export function coilsText({ orientation, separation_m }: CoilNames): string {
  return `${orientation}, ${separation_m} m`;
}

type CoilNames = Pick<Channel, "orientation" | "separation_m">;

/** A channel in words, such as "in-phase, 60 kHz, HCP, 1.8 m". */
export function channelText(channel: Omit<Channel, "unit">): string {
  const { kind, frequency_Hz } = channel;
  return `${KIND_WORDS[kind]}, ${frequencyText(frequency_Hz)}, ${coilsText(channel)}`;
}

/** Such as "4 kHz" or "900 Hz". */
export function frequencyText(frequency_Hz: number): string {
  return frequency_Hz >= 1000 ? `${frequency_Hz / 1000} kHz` : `${frequency_Hz} Hz`;
}

/**
 * Many channels in few words, such as "quadrature and in-phase, 4 and 10 kHz, HCP, 1.8 m"; groups
 * that share too little are parted by semicolons.
 */
export function channelsText(channels: readonly Channel[]): string {
  let groups: readonly ChannelGroup[] = channels.map((channel) => ({
    kinds: [KIND_WORDS[channel.kind]],
    frequencies: [channel.frequency_Hz],
    orientations: [channel.orientation],
    separations: [channel.separation_m],
  }));
  for (const part of ["kinds", "frequencies", "separations", "orientations"] as const) {
    groups = merged(groups, part);
  }
  return groups.map(groupText).join("; ");
}

interface ChannelGroup {
  readonly kinds: readonly string[];
  readonly frequencies: readonly number[];
  readonly orientations: readonly string[];
  readonly separations: readonly number[];
}

/** Groups that are alike but for one part as one group. */
function merged(groups: readonly ChannelGroup[], part: keyof ChannelGroup): ChannelGroup[] {
  const alike = groupedBy(groups, (one) => JSON.stringify({ ...one, [part]: null }));
  return [...alike.values()].map((all) => ({
    ...firstOf(all),
    [part]: [...new Set(all.flatMap((one) => [...one[part]]))],
  }));
}

function groupText({ kinds, frequencies, orientations, separations }: ChannelGroup): string {
  const unit = frequencies.every((one) => one >= 1000) ? 1000 : 1;
  const texts = frequencies.map((one) => String(one / unit));
  return [
    listText(kinds),
    `${listText(texts)} ${unit === 1000 ? "kHz" : "Hz"}`,
    listText(orientations),
    `${listText(separations.map(String))} m`,
  ].join(", ");
}
