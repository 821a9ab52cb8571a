import type { Campaign, Cause, Pass } from "../../survey/survey.js";
import type { Masked, SetAsideStretch } from "../masked.js";
import type { DisturbedStretch } from "./merge-stretches.js";
import { withinReach } from "./noted-objects.js";

/** Flags are bytes, so a campaign has 255 causes at the most. */
const MOST_CAUSES = 255;

/** A stretch with the flag of its cause, and the readings that it sets aside so far. */
interface Flagging {
  readonly stretch: DisturbedStretch;
  readonly flag: number;
  wholly: number;
  partly: number;
}

/** The campaign with every reading within a stretch set aside; earlier flags stay. */
export function setStretchesAside(
  campaign: Campaign,
  stretches: readonly DisturbedStretch[],
  reach_m: number,
): Campaign & Pick<Masked, "interference"> {
  const room = MOST_CAUSES - campaign.causes.length;
  const causes = stretches.slice(0, room).map(causeOf);
  if (stretches.length > room) {
    causes[room - 1] = { kind: "detected", text: "Further disturbed stretches" };
  }
  const flaggings = stretches.map((stretch, k): Flagging => {
    const flag = campaign.causes.length + Math.min(k, room - 1) + 1;
    return { stretch, flag, wholly: 0, partly: 0 };
  });
  const passes = campaign.passes.map((pass) => flaggedPass(pass, flaggings, reach_m));
  const interference = flaggings.map((one) => stretchOf(campaign.label, one));
  return { ...campaign, passes, causes: [...campaign.causes, ...causes], interference };
}

/** Counts the readings in the flaggings. */
function flaggedPass(pass: Pass, flaggings: readonly Flagging[], reach_m: number): Pass {
  const setAside = pass.setAside.map((flags) => Uint8Array.from(flags));
  for (const [i, x] of pass.chainage_m.entries()) {
    const flagging = flaggings.find(
      ({ stretch: { from_m, to_m, offset_m } }) =>
        x >= from_m && x <= to_m && withinReach(offset_m, pass.offset_m[i]!, reach_m),
    );
    if (flagging === undefined) continue;
    const extent = flagRow({ ...pass, setAside }, i, flagging);
    if (extent !== null) flagging[extent]++;
  }
  return { ...pass, setAside };
}

/**
 * Flags the channels of a row that are still in use and not spared; null where none of them has a
 * value. A spared channel without a value keeps nothing of the row in use.
 */
function flagRow(
  { instrument, setAside, values }: Pass,
  i: number,
  { flag, stretch }: Flagging,
): "wholly" | "partly" | null {
  let [spared, harmed] = [false, false];
  for (const [c, { field }] of instrument.channels.entries()) {
    const flags = setAside[c]!;
    if (flags[i] !== 0) continue;
    const has = !Number.isNaN(values[c]![i]!);
    if (has && stretch.spared?.includes(field)) spared = true;
    else {
      harmed ||= has;
      flags[i] = flag;
    }
  }
  if (!harmed) return null;
  return spared ? "partly" : "wholly";
}

function causeOf(stretch: DisturbedStretch): Cause {
  const where = `${stretch.from_m.toFixed(1)}–${stretch.to_m.toFixed(1)} m`;
  const object = stretch.objects.join(", ");
  const seen = stretch.detected ? "noted and seen in the readings" : "noted";
  const unnoted = unnotedText(stretch);
  const kind = kindOf(stretch);
  return object === ""
    ? { kind, text: `${unnoted}, ${where}` }
    : { kind, text: `Metal or structure (${object}), ${seen}, ${where}`, object };
}

function unnotedText({ along, jumps }: DisturbedStretch): string {
  if (along) return "Shifted as a whole by something along the line that nobody noted";
  return jumps
    ? "Disturbed by noise or by small metal that nobody noted"
    : "Disturbed by metal that nobody noted";
}

function kindOf({ objects, detected }: DisturbedStretch): SetAsideStretch["cause"] {
  if (objects.length === 0) return "detected";
  return detected ? "both" : "documented";
}

function stretchOf(campaign: string, { stretch, wholly, partly }: Flagging): SetAsideStretch {
  const { from_m, to_m, offset_m, channels, score, spared } = stretch;
  return {
    campaign,
    from_m,
    to_m,
    cause: kindOf(stretch),
    object: stretch.objects.join(", "),
    channels,
    readings: wholly,
    offset_m,
    score,
    ...(stretch.along ? { along: true } : {}),
    ...(stretch.jumps ? { jumps: true } : {}),
    ...(spared && partly > 0 ? { spared, partly } : {}),
  };
}
