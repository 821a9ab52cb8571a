import { median } from "../../numerics/robust.js";
import type { Campaign } from "../../survey/survey.js";
import type { ChannelNoise } from "../masked.js";
import type { TrackScore } from "../metal/score.js";
import { type NoiseModel, noiseFloored } from "./channel-noise.js";
import { repeatNoise } from "./repeat-noise.js";

/**
 * The noise to hand on, one entry for each channel of each pass: from repeats at fixed spots where
 * there are enough, with the ground's own grain told apart; else the scatter of the readings, grain
 * and all. Of a pass with several lines, the middle of them.
 */
export function noiseFound(
  campaign: Campaign,
  scored: readonly TrackScore[],
): readonly ChannelNoise[] {
  return campaign.passes.flatMap((pass) => {
    const lines = scored.filter(({ track }) => track.pass === pass);
    if (lines.length === 0) return [];
    const repeats = repeatNoise(campaign, pass);
    return pass.instrument.channels.map(({ field }, c): ChannelNoise => {
      const walked = middle(lines.map(({ noise }) => noise[c]!));
      const still = repeats[c] ?? null;
      const noise = still ?? walked;
      const level = Math.abs(median(lines.flatMap(({ track }) => [...track.values[c]!]))) || 0;
      return {
        resource: pass.resource,
        channel: field,
        floor: noise.floor,
        share_pct: 100 * noise.share,
        typical: noiseFloored(noise, level),
        walked: noiseFloored(walked, level),
        grain_pct: still === null ? Number.NaN : grain(walked, still, level),
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
function grain(walked: NoiseModel, still: NoiseModel, level: number): number {
  const beyond = noiseFloored(walked, level) ** 2 - noiseFloored(still, level) ** 2;
  // A value that the noise hides has no grain to speak of.
  if (!(level > 3 * noiseFloored(still, level))) return Number.NaN;
  return (100 * Math.sqrt(Math.max(0, beyond))) / level;
}
