import { type NoiseModel, noiseAt } from "../../numerics/statistics/level-noise.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../../survey/survey.js";
import type { ChannelNoise } from "../masked.js";
import type { ScoredProfile } from "../metal/score-profile.js";
import { repeatNoise } from "./repeat-noise.js";

/**
 * The noise to hand on, one entry for each channel of each pass: from repeats at fixed spots where
 * there are enough, with the small-scale variation of the ground kept apart; else the scatter of
 * the readings as a whole. Of a pass with several lines, their median.
 */
export function campaignNoise(
  campaign: Campaign,
  profiles: readonly ScoredProfile[],
): readonly ChannelNoise[] {
  return campaign.passes.flatMap((pass) => {
    const lines = profiles.filter(({ profile }) => profile.pass === pass);
    if (lines.length === 0) return [];
    const repeats = repeatNoise(campaign, pass);
    return pass.instrument.channels.map((channel, c): ChannelNoise => {
      const { field } = channel;
      const seen = lines.map((line) => ({ ...line, at: line.profile.channels.indexOf(channel) }));
      const walked = middle(seen.flatMap(({ noise, at }) => noise[at] ?? []));
      const still = repeats[c] ?? null;
      const { floor, share } = still ?? walked;
      const values = seen.flatMap(({ profile, at }) => Array.from(profile.values[at] ?? []));
      const level = Math.abs(median(values)) || 0;
      return {
        resource: pass.resource,
        channel: field,
        floor,
        share_pct: 100 * share,
        typical: noiseAt({ floor, share }, level),
        walked: noiseAt(walked, level),
        grain_pct: still === null ? Number.NaN : walkAdds_pct(walked, still, level),
        from: still === null ? "readings" : "repeats",
      };
    });
  });
}

function middle(models: readonly NoiseModel[]): NoiseModel {
  return {
    floor: median(models.map(({ floor }) => floor)),
    share: median(models.map(({ share }) => share)),
  };
}

/** What the walk's scatter holds beyond the instrument's noise, % of the middle value. */
function walkAdds_pct(walked: NoiseModel, still: NoiseModel, level: number): number {
  const noise = noiseAt(still, level);
  // Unknown for a value that the noise hides.
  if (!(level > 3 * noise)) return Number.NaN;
  return (100 * Math.sqrt(Math.max(0, noiseAt(walked, level) ** 2 - noise ** 2))) / level;
}
