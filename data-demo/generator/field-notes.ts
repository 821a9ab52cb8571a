import type { CampaignLabel } from "./facts.js";
import { type Cell, fixed } from "./formats.js";
import { METAL_OBJECTS } from "./metal-objects.js";

/** What the field book says about the crest. */

export const NOTE_HEADER = ["kind", "object", "from_m", "to_m", "offset_m", "campaign", "text"];

interface Note {
  readonly kind: "mark" | "metal" | "structure" | "remark";
  readonly object: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly offset_m?: number;
  readonly campaign?: CampaignLabel;
  readonly text: string;
}

/** Words of the field book for each noted object. */
const WORDS: Readonly<Record<string, Pick<Note, "kind" | "text"> & { offset_m?: number }>> = {
  gate: { kind: "metal", text: "Steel field gate between posts, walked through it" },
  culvert: { kind: "structure", text: "Culvert under the bank, steel grille and frame" },
  "pipe crossing": { kind: "metal", text: "Steel water pipe across the crest, marker posts" },
  pipe: { kind: "metal", text: "Old pipe shown on a plan of 1968, material not known" },
  "sheet piling": { kind: "structure", offset_m: 1.6, text: "Sheet piling at the waterside edge" },
  vehicle: { kind: "metal", offset_m: -2.6, text: "Van of the mowing crew parked at the shoulder" },
  "cable crossing": { kind: "metal", text: "Armoured cable across the crest, marker stone" },
};

const OTHERS: readonly Note[] = [
  { kind: "mark", object: "chainage post", from_m: 500, to_m: 500, text: "Wooden post 0.5" },
  {
    kind: "remark",
    object: "drain",
    from_m: 520,
    to_m: 570,
    offset_m: -2,
    campaign: "2032-03",
    text: "New gravel drain along the landside shoulder, dug in January",
  },
  { kind: "remark", object: "trees", from_m: 674, to_m: 704, text: "Poplars on both sides" },
  { kind: "mark", object: "chainage post", from_m: 1000, to_m: 1000, text: "Wooden post 1.0" },
  {
    kind: "mark",
    object: "base spot",
    from_m: 1206,
    to_m: 1206,
    offset_m: -16,
    text: "B0 on the berm, wooden stand",
  },
  { kind: "mark", object: "chainage post", from_m: 2000, to_m: 2000, text: "Wooden post 2.0" },
  {
    kind: "remark",
    object: "wet ground",
    from_m: 1850,
    to_m: 1900,
    offset_m: -12,
    campaign: "2032-03",
    text: "Soft ground and rushes at the landside toe",
  },
  { kind: "remark", object: "burrow", from_m: 2262, to_m: 2262, text: "Old mole hills, grazed" },
];

export function noteRows(): readonly (readonly Cell[])[] {
  const notes = [...objectNotes(), ...OTHERS].sort((p, q) => p.from_m - q.from_m);
  return notes.map((note) => [
    note.kind,
    note.object,
    fixed(note.from_m, 1),
    fixed(note.to_m, 1),
    note.offset_m === undefined ? null : fixed(note.offset_m, 1),
    note.campaign ?? null,
    note.text,
  ]);
}

/** The field book gives whole metres. */
function objectNotes(): readonly Note[] {
  return METAL_OBJECTS.filter((one) => one.noted).map((one) => {
    const from_m = Math.round(one.from_m);
    const to_m = Math.round(one.to_m);
    const [campaign] = one.campaigns.length === 1 ? one.campaigns : [];
    const note = { object: one.object, from_m, to_m, ...WORDS[one.object]! };
    return campaign ? { ...note, campaign } : note;
  });
}
