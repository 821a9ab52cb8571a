import type { Campaign, Cause, Pass } from "../survey/survey.js";
import type { Piece } from "./combine.js";
import { within } from "./footprints.js";
import type { SetAsideStretch } from "./masked.js";

/** Flags are bytes, so a campaign has 255 causes at the most. */
const MOST_CAUSES = 255;

export interface Applied {
  readonly campaign: Campaign;
  readonly stretches: readonly SetAsideStretch[];
}

/** The campaign with every reading within a piece set aside; what was set aside before stays so. */
export function setPiecesAside(
  campaign: Campaign,
  pieces: readonly Piece[],
  reach_m: number,
): Applied {
  const room = MOST_CAUSES - campaign.causes.length;
  const causes = pieces.slice(0, room).map(causeOf);
  if (pieces.length > room)
    causes[room - 1] = { kind: "detected", text: "Further disturbed stretches" };
  const flagOf = (k: number) => campaign.causes.length + Math.min(k, room - 1) + 1;
  const counts = pieces.map(() => ({ wholly: 0, partly: 0 }));
  const passes = campaign.passes.map((pass) => {
    const setAside = pass.setAside.map((flags) => Uint8Array.from(flags));
    for (let i = 0; i < pass.count; i++) {
      const k = pieces.findIndex((piece) => holds(piece, pass, { i, reach_m }));
      if (k < 0) continue;
      const done = flagRow(pass, setAside, { i, flag: flagOf(k), spared: pieces[k]!.spared });
      if (done !== null) counts[k]![done]++;
    }
    return { ...pass, setAside };
  });
  return {
    campaign: { ...campaign, passes, causes: [...campaign.causes, ...causes] },
    stretches: pieces.map((piece, k) => stretchOf(campaign.label, piece, counts[k]!)),
  };
}

function holds(
  piece: Piece,
  pass: Pass,
  { i, reach_m }: { readonly i: number; readonly reach_m: number },
): boolean {
  const x = pass.chainage_m[i]!;
  return x >= piece.from_m && x <= piece.to_m && within(piece.offset_m, pass.offset_m[i]!, reach_m);
}

/**
 * Flags the channels of a row that are still in use and not spared; null where none of them has a
 * value. A spared channel without a value keeps nothing of the row in use.
 */
function flagRow(
  pass: Pass,
  setAside: readonly Uint8Array[],
  { i, flag, spared }: { readonly i: number; readonly flag: number; readonly spared?: Spared },
): "wholly" | "partly" | null {
  const has = (c: number) => setAside[c]![i] === 0 && !Number.isNaN(pass.values[c]![i]!);
  const columns = Array.from(setAside.keys());
  const stays = (c: number) => spared?.includes(pass.instrument.channels[c]!.field) && has(c);
  const kept = columns.filter(stays);
  const harmed = columns.filter((c) => !kept.includes(c) && setAside[c]![i] === 0);
  const used = harmed.some(has);
  for (const c of harmed) setAside[c]![i] = flag;
  if (!used) return null;
  return kept.length > 0 ? "partly" : "wholly";
}

type Spared = readonly string[] | undefined;

function causeOf(piece: Piece): Cause {
  const where = `${piece.from_m.toFixed(1)}–${piece.to_m.toFixed(1)} m`;
  const object = piece.objects.join(", ");
  const seen = piece.detected ? "noted and seen in the readings" : "noted";
  const unnoted = piece.along
    ? "Shifted as a whole by something along the line that nobody noted"
    : "Disturbed by metal that nobody noted";
  const text =
    object === "" ? `${unnoted}, ${where}` : `Metal or structure (${object}), ${seen}, ${where}`;
  return { kind: kindOf(piece), text, ...(object === "" ? {} : { object }) };
}

function kindOf({ objects, detected }: Piece): "documented" | "detected" | "both" {
  if (objects.length === 0) return "detected";
  return detected ? "both" : "documented";
}

function stretchOf(
  campaign: string,
  piece: Piece,
  { wholly, partly }: { readonly wholly: number; readonly partly: number },
): SetAsideStretch {
  const { from_m, to_m, offset_m, channels, score } = piece;
  const object = piece.objects.join(", ");
  return {
    campaign,
    from_m,
    to_m,
    cause: kindOf(piece),
    object,
    channels,
    readings: wholly,
    offset_m,
    score,
    ...(piece.along ? { along: true } : {}),
    ...(piece.spared && partly > 0 ? { spared: piece.spared, partly } : {}),
  };
}
