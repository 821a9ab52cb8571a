import { channelsByField } from "../drift/channels.js";
import { entryOf } from "../numerics/arrays.js";
import type { Table } from "../step/figure.js";
import { channelText } from "../survey/channel-words.js";
import type { MaskedWork } from "./mask-campaign.js";
import type { Masked } from "./masked.js";
import { countTable, objectTable } from "./object-tables.js";
import { causeWords, shownText } from "./words.js";

export function maskTables(work: MaskedWork): readonly Table[] {
  const { value } = work;
  return [stretchTable(value), countTable(work), objectTable(work), noiseTable(value)];
}

function noiseTable({ label, noise, passes }: Masked): Table {
  const channels = new Map(channelsByField(passes).map((one) => [one.field, one]));
  const rows = noise.map((one) => {
    const channel = entryOf(channels, one.channel);
    const grain_pct = Number.isFinite(one.grain_pct) ? one.grain_pct : null;
    return { ...one, channel: channelText(channel), unit: channel.unit, grain_pct };
  });
  return {
    id: `noise-${label}`,
    caption:
      "Noise of one reading: a floor and a share of the value. From repeats it is the " +
      "instrument's alone; the walk's scatter at the middle value holds the grain of the ground " +
      "and the gait too.",
    columns: [
      { field: "channel", label: "Channel" },
      { field: "unit", label: "Unit" },
      { field: "floor", label: "Floor", digits: 1 },
      { field: "share_pct", label: "Share (%)", digits: 2 },
      { field: "typical", label: "At the middle value", digits: 1 },
      { field: "walked", label: "Scatter of the walk", digits: 1 },
      { field: "grain_pct", label: "Walk adds (%)", digits: 1 },
      { field: "from", label: "From" },
    ],
    rows,
  };
}

function stretchTable({ label, interference, passes }: Masked): Table {
  const all = channelsByField(passes);
  return {
    id: `set-aside-${label}`,
    caption: "Stretches set aside, why, and the channels in which the disturbance shows.",
    columns: [
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "cause", label: "Cause" },
      { field: "object", label: "Object" },
      { field: "score", label: "Highest score", digits: 0 },
      { field: "channels", label: "Channels" },
      ...(interference.some(({ spared }) => spared !== undefined)
        ? [{ field: "spared", label: "Left in use" }]
        : []),
      { field: "readings", label: "Readings" },
    ],
    rows: interference.map((one) => ({
      from_m: one.from_m,
      to_m: one.to_m,
      cause: causeWords(one),
      object: one.object === "" ? "not noted" : one.object,
      score: one.score,
      channels: shownText(one.channels, all),
      spared: shownText(one.spared ?? [], all),
      readings: one.readings + (one.partly ?? 0),
    })),
  };
}
