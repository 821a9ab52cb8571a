import type { Channel } from "../survey/survey.js";

const KINDS = { quadrature: "quadrature", inphase: "in-phase", conductivity: "conductivity" };

export const frequencyName = ({ frequency_Hz }: Pick<Channel, "frequency_Hz">): string =>
  frequency_Hz >= 1000 ? `${frequency_Hz / 1000} kHz` : `${frequency_Hz} Hz`;

/** Channels of one coil pair and kind: "HCP quadrature", with the separation where there are several. */
export function familyName(channel: Channel, all: readonly Channel[]): string {
  const several = new Set(all.map(({ separation_m }) => separation_m)).size > 1;
  const pair = several ? `${channel.orientation} ${channel.separation_m} m` : channel.orientation;
  return `${pair} ${KINDS[channel.kind]}`;
}

/** "HCP quadrature, 4 kHz". */
export function channelName(channel: Channel, all: readonly Channel[]): string {
  return `${familyName(channel, all)}, ${frequencyName(channel)}`;
}
