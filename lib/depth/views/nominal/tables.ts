import { median } from "../../../numerics/statistics/robust.js";
import type { Table } from "../../../step/figure.js";
import { coilsText, frequencyText } from "../../../survey/channel-words.js";
import type { NominalView } from "./nominal.js";

export function nominalTable(value: NominalView): Table {
  const names = new Map(value.channels.map((one) => [one.field, nameOf(one)]));
  const rows = value.channels.map((channel) => ({
    channel: nameOf(channel),
    nominal: channel.nominalDepth_m,
    median: channel.medianDepth_m,
    skin: channel.skinDepth_m,
    apparent: median(channel.apparent_mS_per_m),
    halfSpace: channel.halfSpace_mS_per_m,
    noise: channel.noise_mS_per_m,
    shared: 100 * channel.shared,
    nearest: names.get(channel.nearest) ?? "",
  }));
  return {
    id: `nominal-${value.campaign}`,
    caption: `Channels of campaign ${value.campaign} in the customary view`,
    columns: [
      { field: "channel", label: "Channel" },
      { field: "nominal", label: "Nominal depth (m)", digits: 2 },
      { field: "median", label: "Half of its sensitivity above (m)", digits: 2 },
      { field: "skin", label: "Skin depth (m)", digits: 0 },
      { field: "apparent", label: "Apparent, median (mS/m)", digits: 1 },
      { field: "halfSpace", label: "Even ground that gives it (mS/m)", digits: 1 },
      { field: "noise", label: "Noise at a station (mS/m)", digits: 2 },
      { field: "shared", label: "Told by the others too (%)", digits: 0 },
      { field: "nearest", label: "Most like" },
    ],
    rows,
  };
}

function nameOf(channel: NominalView["channels"][number]): string {
  return `${coilsText(channel)}, ${frequencyText(channel.frequency_Hz)}`;
}
