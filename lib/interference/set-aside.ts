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
  const counts = pieces.map(() => 0);
  const passes = campaign.passes.map((pass) => {
    const setAside = pass.setAside.map((flags) => Uint8Array.from(flags));
    for (let i = 0; i < pass.count; i++) {
      const k = pieces.findIndex((piece) => holds(piece, pass, { i, reach_m }));
      if (k >= 0 && flagRow(pass, setAside, { i, flag: flagOf(k) })) counts[k]!++;
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

/** Flags the channels of a row that are still in use; true where one of them has a value. */
function flagRow(
  pass: Pass,
  setAside: readonly Uint8Array[],
  { i, flag }: { readonly i: number; readonly flag: number },
): boolean {
  let used = false;
  for (const [c, flags] of setAside.entries()) {
    if (flags[i] !== 0) continue;
    flags[i] = flag;
    used ||= !Number.isNaN(pass.values[c]![i]!);
  }
  return used;
}

function causeOf(piece: Piece): Cause {
  const where = `${piece.from_m.toFixed(1)}–${piece.to_m.toFixed(1)} m`;
  const object = piece.objects.join(", ");
  const seen = piece.detected ? "noted and seen in the readings" : "noted";
  const text =
    object === ""
      ? `Disturbed by metal that nobody noted, ${where}`
      : `Metal or structure (${object}), ${seen}, ${where}`;
  return { kind: kindOf(piece), text, ...(object === "" ? {} : { object }) };
}

function kindOf({ objects, detected }: Piece): "documented" | "detected" | "both" {
  if (objects.length === 0) return "detected";
  return detected ? "both" : "documented";
}

function stretchOf(campaign: string, piece: Piece, readings: number): SetAsideStretch {
  const { from_m, to_m, offset_m, channels, score } = piece;
  const object = piece.objects.join(", ");
  return {
    campaign,
    from_m,
    to_m,
    cause: kindOf(piece),
    object,
    channels,
    readings,
    offset_m,
    score,
  };
}
