import type { DepthSlices } from "../../depth-slices.js";
import { type ChannelMisfit, EXPLAINED } from "./channel-misfits.js";
import { binMisfit, misfitBins } from "./misfit-bins.js";
import { unexplained } from "./unexplained.js";

/** Median residual over its noise above which a channel counts as biased. */
const BIASED = 0.5;

/** The residuals in a sentence: the share explained, the worst channel and stretch. */
export function residualFinding(value: DepthSlices, channels: readonly ChannelMisfit[]): string {
  const start =
    `Campaign ${value.campaign}: layered ground meets ${explainedShare(value, channels)} of the ` +
    `readings within ${EXPLAINED} times their noise`;
  const [stretch] = unexplained(value, channels);
  const where = stretch && `${stretch.from_m.toFixed(0)}–${stretch.to_m.toFixed(0)} m worst`;
  const parts = [where, channelText(channels)].filter((part) => part !== undefined);
  return `${start}; ${parts.join(", ") || "no channel and no stretch stands out"}`;
}

/** The channel of the worst fit over the whole line, or else the most biased one. */
function channelText(channels: readonly ChannelMisfit[]): string | undefined {
  const worst = channels.reduce((most, one) => (one.misfit > most.misfit ? one : most));
  if (worst.misfit > EXPLAINED)
    return `${worst.name} least of all (${worst.misfit.toFixed(1)} times)`;
  const aside = channels.reduce((most, one) =>
    Math.abs(one.middle) > Math.abs(most.middle) ? one : most,
  );
  if (!(Math.abs(aside.middle) > BIASED)) return undefined;
  return `${aside.name} lies ${aside.middle > 0 ? "above" : "below"} the model all along`;
}

/** Share of the stations' values in bins whose misfit counts as explained. */
function explainedShare(value: DepthSlices, channels: readonly ChannelMisfit[]): string {
  let [met, all] = [0, 0];
  for (const bin of misfitBins(value)) {
    for (const { residual } of channels) {
      const size = binMisfit([residual], bin);
      if (Number.isNaN(size)) continue;
      const count = bin.end - bin.first;
      all += count;
      if (size <= EXPLAINED) met += count;
    }
  }
  if (met === all) return "all";
  return `${Math.floor((100 * met) / all)} %`;
}
