import { valueAt } from "../../numerics/arrays.js";
import { extent, orNull } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Table } from "../../step/figure.js";
import { fateOf } from "../../survey/account/reading-status.js";
import { campaignsOfAllLines } from "../../survey/all-lines.js";
import { channelsText } from "../../survey/channel-words.js";
import { utcText } from "../../survey/iso-time.js";
import type { Campaign, Pass, Survey } from "../../survey/survey.js";

/** One row a pass: when, where, how densely, with what, and how many readings are in use. */
export function passTable(survey: Survey): Table {
  return {
    id: "passes",
    caption: "The passes: one walk with one set-up of the coils each. Times are UTC.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "file", label: "File" },
      { field: "line", label: "Line" },
      { field: "readings", label: "Readings" },
      { field: "aside", label: "Set aside" },
      { field: "start", label: "Start" },
      { field: "end", label: "End" },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "spacing_m", label: "Spacing (m)", digits: 2 },
      { field: "channels", label: "Channels" },
    ],
    rows: campaignsOfAllLines(survey).flatMap((campaign) =>
      campaign.passes.map((pass, p) => ({
        campaign: campaign.label,
        file: pass.file,
        line: [...new Set(pass.line)].join(", "),
        readings: pass.count,
        aside: setAsideCount(campaign, p),
        ...extentCells(pass),
        channels: channelsText(pass.instrument.channels),
      })),
    ),
  };
}

function setAsideCount(campaign: Campaign, p: number): number {
  const rows = [...(campaign.passes[p]?.row.keys() ?? [])];
  return rows.filter((row) => fateOf(campaign, p, row).fate === "set aside").length;
}

function extentCells({ chainage_m, time_s }: Pass) {
  const [time, chainage] = [extent(time_s), extent(chainage_m)];
  const steps = chainage_m.slice(1).map((here, i) => Math.abs(here - valueAt(chainage_m, i)));
  return {
    start: utcText(time.least),
    end: utcText(time.most),
    from_m: orNull(chainage.least),
    to_m: orNull(chainage.most),
    spacing_m: orNull(median(steps)),
  };
}
