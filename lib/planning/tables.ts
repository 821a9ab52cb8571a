import type { Table } from "../step/figure.js";
import { channelText } from "../survey/channel-words.js";
import type { ProfilingPlan } from "./plan.js";

export function planTables(value: ProfilingPlan): readonly Table[] {
  return [channelTable(value), variantTable(value)];
}

function channelTable(value: ProfilingPlan): Table {
  return {
    id: "plan-channels",
    caption: "Channels: the target's mark and what stands against it",
    columns: [
      { field: "channel", label: "Channel" },
      { field: "mark_ppm", label: "Mark (ppm)", digits: 1 },
      { field: "noise_ppm", label: "Noise of a reading (ppm)", digits: 1 },
      { field: "ground_ppm", label: "Natural variation (ppm)", digits: 1 },
      { field: "alone", label: "Probability alone", digits: 2 },
      { field: "lost", label: "Lost without it (%)", digits: 1 },
      { field: "shared", label: "Told by the others too (%)", digits: 0 },
      { field: "adds", label: "Adds" },
    ],
    rows: value.channels.map((one) => ({
      channel: channelText(one),
      mark_ppm: one.mark_ppm,
      noise_ppm: one.noise_ppm,
      ground_ppm: one.ground_ppm,
      alone: one.alone,
      lost: 100 * one.lost,
      shared: 100 * one.shared,
      adds: one.addsNothing ? "nothing" : "something",
    })),
  };
}

function variantTable(value: ProfilingPlan): Table {
  const rows = [...value.bySpacing, ...value.byHeight].map(({ effort, ...variant }) => ({
    ...variant,
    readings: effort.readings_per_km,
    hours: effort.hours_per_km,
    seconds: effort.secondsPerReading,
  }));
  return {
    id: "plan-variants",
    caption: "Other spacings and heights, and what a kilometre takes",
    columns: [
      { field: "spacing_m", label: "Reading every (m)", digits: 2 },
      { field: "height_m", label: "Coils at (m)", digits: 2 },
      { field: "probability", label: "Probability", digits: 2 },
      { field: "readings", label: "Readings a km", digits: 0 },
      { field: "hours", label: "Hours a km", digits: 1 },
      { field: "seconds", label: "Seconds a reading", digits: 2 },
    ],
    rows,
  };
}
