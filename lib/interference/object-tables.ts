import { channelsByField } from "../drift/channels.js";
import type { Table } from "../step/figure.js";
import type { MaskedWork } from "./mask-campaign.js";
import type { Masked } from "./masked.js";
import type { NotedObject } from "./stretches/noted-objects.js";
import { shownText } from "./words.js";

/** How many objects were noted and seen, noted and silent, and seen without a note. */
export function countTable({ value, noted, silent }: MaskedWork): Table {
  const readable = noted.filter(({ readings }) => readings > 0).length;
  return {
    id: `noted-seen-${value.label}`,
    caption: "How many objects noted in the field the readings show, and what they show besides.",
    columns: [
      { field: "what", label: "" },
      { field: "seen", label: "Seen in the readings" },
      { field: "unseen", label: "Not seen" },
    ],
    rows: [
      { what: "Noted objects", seen: readable - silent.length, unseen: silent.length },
      { what: "Stretches without a note", seen: value.unexplained.length, unseen: null },
    ],
  };
}

/** One row an object, noted or only seen, by chainage: what to go back for. */
export function objectTable({ value, noted, silent }: MaskedWork): Table {
  const all = channelsByField(value.passes);
  const found = value.interference.filter(({ cause }) => cause === "detected");
  const rows = [
    ...noted.map((one) => ({
      object: one.note.object,
      from_m: Math.min(one.note.from_m, one.note.to_m),
      to_m: Math.max(one.note.from_m, one.note.to_m),
      verdict: verdictOf(one, silent.includes(one)),
      channels: shownText(silent.includes(one) ? [] : channelsOf(value, one), all),
    })),
    ...found.map(({ from_m, to_m, channels }) => ({
      object: "not noted",
      from_m,
      to_m,
      verdict: "seen, not noted: go back and look",
      channels: shownText(channels, all),
    })),
  ];
  return {
    id: `objects-${value.label}`,
    caption:
      `Objects of campaign ${value.label}, noted or only seen, and the channels that show ` +
      "them.",
    columns: [
      { field: "object", label: "Object" },
      { field: "from_m", label: "From (m)", digits: 1 },
      { field: "to_m", label: "To (m)", digits: 1 },
      { field: "verdict", label: "Noted and seen?" },
      { field: "channels", label: "Shows in" },
    ],
    rows: rows.sort((a, b) => a.from_m - b.from_m),
  };
}

function verdictOf(noted: NotedObject, silent: boolean): string {
  if (noted.readings === 0) return "noted, no reading there";
  return silent ? "noted, not seen: check the note" : "noted and seen";
}

/** Those of its trace, else those of the stretch that the object is part of. */
function channelsOf({ interference }: Masked, noted: NotedObject): readonly string[] {
  if (noted.channels.length > 0 || noted.readings === 0) return noted.channels;
  const stretch = interference.find((one) => one.from_m <= noted.to_m && one.to_m >= noted.from_m);
  return stretch?.channels ?? [];
}
