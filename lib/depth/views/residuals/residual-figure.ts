import type { StripRow } from "../../../figures/strip/strip.js";
import { stripSpec } from "../../../figures/strip/strip.js";
import { greys } from "../../../figures/theme.js";
import type { Figure } from "../../../step/figure.js";
import { gapBands } from "../../data/gap-bands.js";
import type { DepthSlices } from "../../depth-slices.js";
import { type ChannelMisfit, channelMisfits } from "./channel-misfits.js";
import { binMisfit, joinedBins, misfitBins } from "./misfit-bins.js";
import { residualFinding } from "./residual-finding.js";

const GROUPS = {
  some: "1.5 to 2",
  more: "2 to 3",
  much: "over 3",
  none: "no reading",
} as const;

const COLOURS = {
  [GROUPS.some]: "#a9cbe0",
  [GROUPS.more]: "#3f7fae",
  [GROUPS.much]: "#12304f",
  [GROUPS.none]: greys.grid,
};

/** Which channels and stretches the model does not explain; none without channel fits. */
export function residualFigures(value: DepthSlices): readonly Figure[] {
  const channels = channelMisfits(value);
  if (channels.length === 0 || channels.every(({ misfit }) => Number.isNaN(misfit))) return [];
  const title = residualFinding(value, channels);
  const figure = {
    id: `depth-residuals-${value.campaign}`,
    title,
    caption:
      "One row a channel, those of one kind together, with the depth above which half of its " +
      "sensitivity lies. Ink shows where readings differ from what the model gives by more than " +
      "their noise allows: root mean square over five stations or more, in units of the noise. " +
      "Where nothing is drawn they are met within 1.5. Numbers at the right are over all " +
      "stations. A channel that lies above or below the model all along has a zero or a gain of " +
      "its own. Lowest panel: all channels together, station by station; 1 is as well as the " +
      "noise allows.",
    spec: residualSpec(value, channels, title),
  };
  return [figure];
}

function residualSpec(value: DepthSlices, channels: readonly ChannelMisfit[], title: string) {
  return stripSpec({
    title,
    width_px: 640,
    panels: [
      {
        kind: "rows",
        label: "What layered ground does not explain",
        nameLabel: "Channel · half from above",
        rows: channels.map((channel) => rowOf(value, channel)),
        colours: COLOURS,
        legend: "Times the noise",
        noteLabel: "overall",
      },
      {
        kind: "lines",
        label: "All channels together (times the noise)",
        height_px: 80,
        ...misfitScale(value.misfit),
        series: [{ name: "misfit", x: value.chainage_m, y: value.misfit }],
        legend: "",
      },
    ],
    setAside: gapBands(value),
  });
}

/** Linear from zero, or logarithmic where single stations would flatten all others. */
function misfitScale(misfit: Float64Array) {
  const most = misfit.reduce((largest, one) => (one > largest ? one : largest), 2);
  if (most > 6) return { scale: "log" as const, zeroRule: true };
  return { scale: "linear" as const, domain: [0, 1.05 * most] as const };
}

function rowOf(value: DepthSlices, channel: ChannelMisfit): StripRow {
  const groupOf = (size: number) => {
    if (Number.isNaN(size)) return GROUPS.none;
    if (size > 3) return GROUPS.much;
    if (size > 2) return GROUPS.more;
    return size > 1.5 ? GROUPS.some : "";
  };
  const bins = joinedBins(misfitBins(value), (bin) => groupOf(binMisfit([channel.residual], bin)));
  const depth = Number.isNaN(channel.median_m) ? "" : ` · ${channel.median_m.toFixed(1)} m`;
  return {
    name: `${channel.name}${depth}`,
    note: channel.misfit.toFixed(1),
    stretches: bins.filter(({ group }) => group !== ""),
  };
}
