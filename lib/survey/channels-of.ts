import type { Campaign, Channel } from "./survey.js";

/** The number of different channels of one kind that a campaign has over all its passes. */
export function channelsOf({ passes }: Campaign, kind: Channel["kind"]): number {
  const channels = passes.flatMap(({ instrument }) => instrument.channels);
  return new Set(channels.filter((channel) => channel.kind === kind).map(keyOf)).size;
}

function keyOf({ frequency_Hz, separation_m, orientation }: Channel): string {
  return `${frequency_Hz}/${separation_m}/${orientation}`;
}
