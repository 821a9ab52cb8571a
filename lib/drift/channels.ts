import type { Channel } from "../survey/survey.js";

/** The channels of several passes, each field once, in order of first appearance. */
export function channelsByField(
  passes: readonly { readonly instrument: { readonly channels: readonly Channel[] } }[],
): readonly Channel[] {
  const byField = new Map<string, Channel>();
  for (const channel of passes.flatMap((pass) => pass.instrument.channels)) {
    if (!byField.has(channel.field)) byField.set(channel.field, channel);
  }
  return [...byField.values()];
}

/** The same by their fields. */
export function channelMap(
  passes: Parameters<typeof channelsByField>[0],
): ReadonlyMap<string, Channel> {
  return new Map(channelsByField(passes).map((channel) => [channel.field, channel]));
}
