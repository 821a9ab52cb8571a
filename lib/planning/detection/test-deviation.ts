import type { Scene, SceneChannel } from "./matched-filter.js";

/** A scene in which the ground's variation and the noise differ over the target. */
export interface TargetScene extends Scene {
  readonly channels: readonly TargetChannel[];
}

export interface TargetChannel extends SceneChannel {
  /** m changes for one standard deviation of each of m independent variations of plain ground. */
  readonly plain: Float64Array;
  /** The same over the target without an end. */
  readonly full: Float64Array;
  /** n shares of the target that the channel has under it. */
  readonly share: Float64Array;
  /** n noises of a reading. */
  readonly noiseOver: Float64Array;
}

/** Standard deviation of a test with the target there; without it, it is 1. */
export function testDeviation(
  { channels, correlation }: TargetScene,
  weights: readonly Float64Array[],
): number {
  const rho = Math.exp(-1 / correlation);
  const variations = channels[0]?.plain.length ?? 0;
  const stations = channels[0]?.share.length ?? 0;
  let variance = 0;
  for (let k = 0; k < variations; k++) {
    let carried = 0;
    for (let i = 0; i < stations; i++) {
      let here = 0;
      for (const [a, { plain, full, share }] of channels.entries()) {
        here += weights[a]![i]! * (plain[k]! + share[i]! * (full[k]! - plain[k]!));
      }
      // Σ_ij ρ^|i−j| h_i h_j, with the sum over earlier stations carried along.
      variance += here * here + 2 * here * carried;
      carried = rho * (carried + here);
    }
  }
  for (const [a, { noiseOver }] of channels.entries()) {
    for (const [i, noise] of noiseOver.entries()) variance += (weights[a]![i]! * noise) ** 2;
  }
  return Math.sqrt(variance);
}
