import { median } from "../../numerics/robust.js";
import type { Table } from "../../step/figure.js";
import { fateOf } from "../../survey/account/reading-status.js";
import { utcText } from "../../survey/iso-time.js";
import type { Campaign, Survey } from "../../survey/survey.js";

/** One row a pass: when, where, how densely, with what, and how many readings are in use. */
export function passTable({ campaigns }: Survey): Table {
  return {
    id: "passes",
    caption: "The passes: one walk with one set-up of the coils each. Times are UTC.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "file", label: "File" },
      { field: "readings", label: "Readings" },
      { field: "aside", label: "Set aside" },
      { field: "start", label: "Start" },
      { field: "end", label: "End" },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "spacing_m", label: "Spacing (m)", digits: 2 },
      { field: "channels", label: "Channels" },
    ],
    rows: campaigns.flatMap((campaign) => campaign.passes.map((_, p) => passRow(campaign, p))),
  };
}

function passRow(campaign: Campaign, p: number): Table["rows"][number] {
  const pass = campaign.passes[p]!;
  const placed = pass.chainage_m.filter((chainage) => !Number.isNaN(chainage)).sort();
  const times = pass.time_s.filter((time) => !Number.isNaN(time)).sort();
  const steps = pass.chainage_m.slice(1).map((here, i) => Math.abs(here - pass.chainage_m[i]!));
  const spacing_m = median(steps);
  let aside = 0;
  for (let i = 0; i < pass.count; i++) aside += fateOf(campaign, p, i).fate === "set aside" ? 1 : 0;
  return {
    campaign: campaign.label,
    file: pass.file,
    readings: pass.count,
    aside,
    start: utcText(times[0] ?? Number.NaN),
    end: utcText(times.at(-1) ?? Number.NaN),
    from_m: placed[0] ?? null,
    to_m: placed.at(-1) ?? null,
    spacing_m: Number.isNaN(spacing_m) ? null : spacing_m,
    channels: pass.instrument.channels.map(({ field }) => field).join(", "),
  };
}
