import type { DepthSlices } from "../../depth-slices.js";
import { type ChannelMisfit, EXPLAINED } from "./channel-misfits.js";
import { binMisfit, joinedBins, misfitBins } from "./misfit-bins.js";

/**
 * Root mean square of so many residuals that noise alone would not reach: their sum of squares 4.5
 * standard deviations above its expectation, and never below what counts as explained.
 */
function beyondChance(residuals: number): number {
  return Math.max(EXPLAINED, Math.sqrt(1 + 4.5 * Math.sqrt(2 / residuals)));
}

/** Stretches where the misfit of all channels is beyond chance, worst first. */
export function unexplained(value: DepthSlices, channels: readonly ChannelMisfit[]) {
  const residuals = channels.map(({ residual }) => residual);
  const joined = joinedBins(misfitBins(value), (bin) =>
    binMisfit(residuals, bin) > beyondChance(residuals.length * (bin.end - bin.first))
      ? "not explained"
      : "",
  );
  return joined
    .filter(({ group }) => group !== "")
    .map((stretch) => {
      const misfit = binMisfit(residuals, stretch);
      const own = channels
        .map(({ name, residual }) => ({ name, size: binMisfit([residual], stretch) }))
        .filter(({ size }) => size > EXPLAINED)
        .sort((a, b) => b.size - a.size);
      const excess = (misfit ** 2 - 1) * (stretch.end - stretch.first);
      return { ...stretch, misfit, excess, channels: own.map(({ name }) => name) };
    })
    .sort((a, b) => b.excess - a.excess);
}
