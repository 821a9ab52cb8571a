import { median } from "../../numerics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { Track } from "./tracks.js";

/** Depths below ground and distances aside that are tried, in separations. */
const DEEP = [-0.15, 0.1, 0.4];
const ASIDE = [0, 0.4];

export interface Place {
  readonly aside_m: number;
  readonly below_m: number;
  /** −1 where the receiver goes ahead of the sender. */
  readonly facing: 1 | -1;
}

export function placesFor({ pass, rows, channels }: Track): readonly Place[] {
  const size_m = median(channels.map(({ separation_m }) => separation_m));
  const height_m = median(Float64Array.from(rows, (i) => pass.height_m[i]!)) || 0;
  // Where one coil stands and one lies, it matters which goes ahead, and nobody says.
  const facings = channels.some(({ orientation }) => orientation === "PRP") ? [1, -1] : [1];
  return DEEP.flatMap((deep) =>
    ASIDE.flatMap((aside) =>
      facings.map((facing) => ({
        below_m: Math.max(0.2 * size_m, height_m + deep * size_m),
        aside_m: aside * size_m,
        facing: facing as 1 | -1,
      })),
    ),
  );
}

/** Channels whose coils are alike have one footprint. */
export interface Group {
  readonly coils: Pick<Channel, "orientation" | "separation_m">;
  readonly members: readonly number[];
}

export function groupsOf(channels: readonly Channel[]): readonly Group[] {
  const groups = new Map<string, { coils: Channel; members: number[] }>();
  for (const [c, channel] of channels.entries()) {
    const key = `${channel.orientation} ${channel.separation_m}`;
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { coils: channel, members: [c] });
    else known.members.push(c);
  }
  return [...groups.values()];
}
