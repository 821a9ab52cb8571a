import { type DriftStory, SCATTERS } from "./drift-stories.js";

/** As many channels as these are thought of before any channel is seen, every scatter alike. */
const BEFOREHAND = 3;
const ROUNDS = 10;
const FLAT: readonly number[] = SCATTERS.map(() => 1 / SCATTERS.length);

/**
 * For each channel, how common each scatter of whole visits is by what the other channels of the
 * instrument show: all are set down together. Its own checks are left out, as they count by themselves.
 */
export function commonScatter(
  channels: readonly (readonly DriftStory[])[],
): readonly (readonly number[])[] {
  const likelihoods = channels.map(scatterLikelihood);
  let shares: readonly (readonly number[])[] = likelihoods.map(() => FLAT);
  for (let round = 0; round < ROUNDS; round++) {
    const likely = likelihoods.map((own, c) =>
      normalised(own.map((value, k) => value * shares[c]![k]!)),
    );
    const sums = FLAT.map((_, k) => likely.reduce((sum, own) => sum + own[k]!, 0));
    shares = likely.map((own) =>
      normalised(own.map((value, k) => BEFOREHAND * FLAT[k]! + sums[k]! - value)),
    );
  }
  return shares;
}

/** Values that sum to 1; all zeros stay. */
export function normalised(values: readonly number[]): readonly number[] {
  const total = values.reduce((sum, value) => sum + value, 0);
  return total > 0 ? values.map((value) => value / total) : values;
}

/** All zeros where nothing is known of a channel. */
function scatterLikelihood(stories: readonly DriftStory[]): readonly number[] {
  const best = stories.reduce((most, one) => Math.max(most, one.logLikelihood), -Infinity);
  const sums = SCATTERS.map(() => 0);
  for (const { scatter, share, logLikelihood } of stories) {
    sums[scatter]! += share * Math.exp(logLikelihood - best);
  }
  return sums;
}
