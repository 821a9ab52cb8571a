import { frequencyText, KIND_WORDS } from "../../../survey/channel-words.js";
import type { Channel } from "../../../survey/survey.js";

/** Channels of one coil pair and kind: "HCP quadrature", with the separation where there are several. */
export function familyName(channel: Channel, all: readonly Channel[]): string {
  const several = new Set(all.map(({ separation_m }) => separation_m)).size > 1;
  const pair = several ? `${channel.orientation} ${channel.separation_m} m` : channel.orientation;
  return `${pair} ${KIND_WORDS[channel.kind]}`;
}

/** "HCP quadrature, 4 kHz". */
export function channelName(channel: Channel, all: readonly Channel[]): string {
  return `${familyName(channel, all)}, ${frequencyText(channel.frequency_Hz)}`;
}
