import type { Orientation } from "../survey/survey.js";
import type { Footprint } from "./footprints.js";
import type { MaskedWork } from "./mask.js";
import type { Masked } from "./masked.js";
import { tellsAlong } from "./metal/along-line.js";
import type { TrackScore } from "./metal/score.js";
import { sharePct } from "./words.js";

export function maskCautions({ value, scored, footprints }: MaskedWork): readonly string[] {
  const texts = [
    ...value.unexplained.map(unexplainedText),
    ...value.silentNotes.map((note) => silentText(value.label, note)),
    ...footprints.filter(({ readings }) => readings === 0).map(unreadText),
    ...alongTexts(value, scored),
    ...wholeTexts({ value, scored, footprints }),
  ];
  return [...new Set(texts)];
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
  if (scored.length === 0) return texts;
  const untold = `Campaign ${label}: the channels cannot tell an object along the line (a guard rail, a cable) from a change of ground; that rests on the field notes.`;
  if (!tellsAlong(scored)) return [...texts, untold];
  return orientationsOf(scored).size > 1 ? texts : [...texts, oneOrientationText(label)];
}

function orientationsOf(scored: readonly TrackScore[]): ReadonlySet<Orientation> {
  return new Set(scored.flatMap(({ track }) => track.channels.map((one) => one.orientation)));
}

/** Of 120 seeded rails, 1.5 to 4.5 scatters strong, 60 % were found so, 81 % with both orientations. */
function oneOrientationText(label: string): string {
  return `Campaign ${label} was walked with the coils in one orientation: an object along the line (a guard rail, a cable) is then easily taken for ground. Where none is found, rest on the field notes, or walk the other orientation too.`;
}

function silentText(label: string, note: Masked["silentNotes"][number]): string {
  const where = note.from_m === note.to_m ? "at" : "from";
  return `Campaign ${label}: the note of ${note.object} ${where} ${note.from_m.toFixed(1)} m has no trace in any channel; check the note. It may also be there and too small or deep to be seen.`;
}

function unreadText({ note }: Footprint): string {
  return `The note of ${note.object} at ${note.from_m.toFixed(1)} m lies where no reading has a position; nothing can be said about it.`;
}

function wholeTexts({ value, scored, footprints }: MaskedWork): readonly string[] {
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
