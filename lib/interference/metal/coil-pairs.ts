import type { Channel } from "../../survey/survey.js";

/** Coils of one orientation and separation, with the fields of their channels. */
export interface CoilPair {
  readonly coils: Pick<Channel, "orientation" | "separation_m">;
  readonly fields: ReadonlySet<string>;
}

/** The coil pairs of an instrument: the coupling to metal is common to the channels of one. */
export function coilPairs(channels: readonly Channel[]): readonly CoilPair[] {
  const pairs = new Map<string, { coils: Channel; fields: Set<string> }>();
  for (const channel of channels) {
    const key = `${channel.orientation} ${channel.separation_m}`;
    const pair = pairs.get(key) ?? { coils: channel, fields: new Set() };
    pairs.set(key, { ...pair, fields: pair.fields.add(channel.field) });
  }
  return [...pairs.values()];
}
