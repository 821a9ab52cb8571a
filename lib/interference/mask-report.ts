import { channelName, channelsByField } from "../drift/channel-name.js";
import type { Table } from "../result/figure.js";
import type { Basis, Caution } from "../result/step-account.js";
import { tellsAlong } from "./along-line.js";
import type { Footprint } from "./footprints.js";
import type { Masked, SetAsideStretch } from "./masked.js";
import type { TrackScore } from "./score.js";

export const maskBasis: readonly Basis[] = [
  {
    statement:
      "Metal at or near the surface is noted in the field with its position and extent, and readings " +
      "within its reach are set aside, not deleted.",
    source: "common practice",
  },
  {
    statement:
      "What changes of a layered ground can do to the channels follows from the layered-earth " +
      "response; an excursion that they cannot do is not ground.",
    source: "Wait 1982, Geo-electromagnetism (response)",
  },
  {
    statement: "Scores are made normal by the cube root of a mean square.",
    source: "Wilson & Hilferty 1931, Proceedings of the National Academy of Sciences 17, 684–688",
  },
];

const FEW = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"];

/** "Eight stretches set aside, 6.1 % of the readings; two of them nobody noted", no full stop. */
export function maskFinding(value: Masked): string {
  const count = value.interference.length;
  if (count === 0)
    return `No stretch of campaign ${value.label} is set aside as disturbed by metal`;
  const share = `${sharePct(value).toFixed(1)} % of the readings`;
  const unnoted = value.unexplained.length;
  const tail =
    unnoted === 0 ? "all of them noted" : `${word(unnoted).toLowerCase()} of them nobody noted`;
  const noun = count === 1 ? "stretch" : "stretches";
  return `${word(count)} ${noun} of campaign ${value.label} set aside, ${share}; ${tail}`;
}

function word(count: number): string {
  return FEW[count] ?? String(count);
}

/** Readings that the stretches set aside, % of all readings of the campaign. */
function sharePct({ passes, interference }: Masked): number {
  const readings = passes.reduce((sum, { count }) => sum + count, 0);
  const aside = interference.reduce((sum, one) => sum + one.readings, 0);
  return readings > 0 ? (100 * aside) / readings : 0;
}

export function maskSummary(value: Masked): string {
  const silent = value.silentNotes.map(({ object }) => object).join(", ");
  const quiet =
    silent === "" ? "" : ` Noted but not seen in any channel, so left in use: ${silent}.`;
  return `${maskFinding(value)}.${quiet}`;
}

export function maskTables(value: Masked, footprints: readonly Footprint[]): readonly Table[] {
  return [stretchTable(value), notedTable(value, footprints), noiseTable(value)];
}

function noiseTable({ label, noise, passes }: Masked): Table {
  const channels = new Map(channelsByField(passes).map((one) => [one.field, one]));
  return {
    id: `noise-${label}`,
    caption:
      "Noise of one reading: a floor and a share of the value. From repeats it is the instrument's " +
      "alone; the walk's scatter at the middle value holds the grain of the ground and the gait too.",
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
    rows: noise.map((one) => ({
      ...one,
      channel: channelName(channels.get(one.channel)!),
      unit: channels.get(one.channel)!.unit,
      grain_pct: Number.isFinite(one.grain_pct) ? one.grain_pct : null,
    })),
  };
}

function stretchTable({ label, interference, passes }: Masked): Table {
  const all = passes.flatMap((pass) => pass.instrument.channels.map(({ field }) => field));
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
      channels: channelsText(one.channels, all),
      spared: one.spared === undefined ? "none" : one.spared.join(", "),
      readings: one.readings + (one.partly ?? 0),
    })),
  };
}

/** "all 20", "18 of 20: not q_60k_hcp, i_25k_vcp", or the few that show it. */
function channelsText(shown: readonly string[], all: readonly string[]): string {
  if (shown.length === 0) return "none";
  const others = all.filter((field) => !shown.includes(field));
  if (others.length === 0) return `all ${all.length}`;
  const count = `${shown.length} of ${all.length}`;
  return others.length < shown.length
    ? `${count}: not ${others.join(", ")}`
    : `${count}: ${shown.join(", ")}`;
}

export function causeWords({ cause }: Pick<SetAsideStretch, "cause">): string {
  return { documented: "noted", detected: "seen", both: "noted and seen" }[cause];
}

function notedTable(value: Masked, footprints: readonly Footprint[]): Table {
  const stretches = value.interference;
  const readable = footprints.filter(({ readings }) => readings > 0).length;
  const silent = value.silentNotes.length;
  const unnoted = value.unexplained.length;
  return {
    id: `noted-seen-${value.label}`,
    caption: "Objects noted in the field against what the readings show.",
    columns: [
      { field: "what", label: "" },
      { field: "seen", label: "Seen in the readings" },
      { field: "unseen", label: "Not seen" },
    ],
    rows: [
      { what: "Noted objects", seen: readable - silent, unseen: silent },
      { what: "Stretches without a note", seen: unnoted, unseen: null },
      {
        what: "Readings set aside",
        seen: stretches.reduce((sum, one) => sum + one.readings, 0),
        unseen: null,
      },
    ],
  };
}

export function maskCautions(
  value: Masked,
  scored: readonly TrackScore[],
  footprints: readonly Footprint[],
): readonly Caution[] {
  const texts = [
    ...value.unexplained.map(unexplainedText),
    ...value.silentNotes.map((note) => silentText(value.label, note)),
    ...footprints.filter(({ readings }) => readings === 0).map(unreadText),
    ...alongTexts(value, scored),
    ...wholeTexts(value, scored, footprints),
  ];
  return [...new Set(texts)].map((text) => ({ step: "maskInterference", text }));
}

function unexplainedText({ campaign, from_m, to_m }: Masked["unexplained"][number]): string {
  const where = `${from_m.toFixed(1)}–${to_m.toFixed(1)} m`;
  return `Campaign ${campaign}, ${where}: the readings show metal and no note explains it. Go back and look before anything is drilled there.`;
}

function alongTexts(
  { label, alongLine, interference }: Masked,
  scored: readonly TrackScore[],
): readonly string[] {
  const texts = alongLine.map(({ from_m, to_m }) => {
    const where = `Campaign ${label}, ${from_m.toFixed(0)}–${to_m.toFixed(0)} m:`;
    const aside = interference.some((one) => one.from_m <= from_m && one.to_m >= to_m);
    const done = aside ? "It is set aside" : "It is still in use";
    return `${where} the stretch as a whole is unlike any layered ground, as beside a rail, a cable or a sheet-pile wall along the line. ${done}; compare the other campaigns, and look.`;
  });
  const untold = `Campaign ${label}: the channels cannot tell an object along the line (a guard rail, a cable) from a change of ground; that rests on the field notes.`;
  return scored.length > 0 && !tellsAlong(scored) ? [...texts, untold] : texts;
}

function silentText(label: string, note: Masked["silentNotes"][number]): string {
  const where = note.from_m === note.to_m ? "at" : "from";
  return `Campaign ${label}: the note of ${note.object} ${where} ${note.from_m.toFixed(1)} m has no trace in any channel; check the note. It may also be there and too small or deep to be seen.`;
}

function unreadText({ note }: Footprint): string {
  return `The note of ${note.object} at ${note.from_m.toFixed(1)} m lies where no reading has a position; nothing can be said about it.`;
}

function wholeTexts(
  value: Masked,
  scored: readonly TrackScore[],
  footprints: readonly Footprint[],
): readonly string[] {
  const texts: string[] = [];
  const label = `Campaign ${value.label}`;
  if (footprints.length === 0) {
    texts.push(`${label}: no metal or structure was noted, so stretches rest on detection alone.`);
  }
  if (scored.some(({ complete }) => !complete)) {
    texts.push(
      `${label}: the channels are too few to tell metal from ground by their proportions; only swings of both signs were taken as metal, and a narrow body of ground may be among them.`,
    );
  }
  if (scored.some(({ score }) => score.length > 0 && score.every(Number.isNaN))) {
    texts.push(`${label}: a line has too few readings to look for metal in it.`);
  }
  if (sharePct(value) > 20) {
    texts.push(
      `${label}: more than a fifth of the readings are set aside; see whether the options fit.`,
    );
  }
  return texts;
}
