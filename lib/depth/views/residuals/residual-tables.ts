import type { Table } from "../../../step/figure.js";
import type { DepthSlices } from "../../depth-slices.js";
import { type ChannelMisfit, channelMisfits } from "./channel-misfits.js";
import { unexplained } from "./unexplained.js";

/** Channel by channel, and the stretches of the worst fit. */
export function residualTables(value: DepthSlices): readonly Table[] {
  const channels = channelMisfits(value);
  if (channels.length === 0) return [];
  const worst = unexplained(value, channels).slice(0, MOST);
  return [channelTable(value, channels), ...(worst.length > 0 ? [stretchTable(value, worst)] : [])];
}

const MOST = 12;

function channelTable(value: DepthSlices, channels: readonly ChannelMisfit[]): Table {
  const corrected = channels.some(({ gain, shift_ppm }) => gain !== 1 || shift_ppm !== 0);
  return {
    id: `depth-channels-${value.campaign}`,
    caption: `How the layered ground of campaign ${value.campaign} meets each channel`,
    columns: [
      { field: "name", label: "Channel" },
      { field: "depth", label: "Half of its sensitivity above (m)", digits: 1 },
      { field: "misfit", label: "Misfit (times the noise)", digits: 2 },
      { field: "mean", label: "Mean difference (times the noise)", digits: 2 },
      { field: "beyond", label: "Over twice the noise (%)", digits: 1 },
      { field: "scale", label: "Noise found over stated", digits: 2 },
      ...(corrected
        ? [
            { field: "gain", label: "Gain found", digits: 3 },
            { field: "shift", label: "Zero found (ppm)", digits: 1 },
          ]
        : []),
    ],
    rows: channels.map((one) => ({
      name: one.name,
      depth: Number.isNaN(one.median_m) ? null : one.median_m,
      misfit: one.misfit,
      mean: one.mean,
      beyond: one.beyond_pct,
      scale: one.noiseScale,
      ...(corrected && { gain: one.gain, shift: one.shift_ppm }),
    })),
  };
}

function stretchTable(value: DepthSlices, worst: ReturnType<typeof unexplained>): Table {
  return {
    id: `depth-unexplained-${value.campaign}`,
    caption: `Stretches of campaign ${value.campaign} that layered ground and noise do not explain`,
    columns: [
      { field: "from_m", label: "From (m)", digits: 0 },
      { field: "to_m", label: "To (m)", digits: 0 },
      { field: "misfit", label: "All channels (times the noise)", digits: 1 },
      { field: "channels", label: "Channels over 1.5, worst first" },
    ],
    rows: worst.map(({ from_m, to_m, misfit, channels }) => ({
      from_m,
      to_m,
      misfit,
      channels: shortList(channels),
    })),
  };
}

function shortList(names: readonly string[]): string {
  const shown = names.slice(0, 3).join("; ");
  return names.length > 3 ? `${shown}; and ${names.length - 3} more` : shown;
}
