import { listText } from "../step/list-text.js";
import type { MaskedWork } from "./mask-campaign.js";
import type { AlongLine, Masked, SilentNote, UnexplainedStretch } from "./masked.js";
import { resolvesParallelObjects } from "./parallel/parallel-objects.js";
import { sharePct } from "./words.js";

export function maskCautions(work: MaskedWork): readonly string[] {
  const { value, noted } = work;
  const unread = noted.filter(({ readings }) => readings === 0);
  const texts = [
    ...value.unexplained
      .filter(({ jumps }) => !jumps)
      .map((one) => unexplainedText(one, seenInPhase(value))),
    ...jumpsTexts(value),
    ...value.silentNotes.map((note) => silentText(value.label, note)),
    ...unread.map(
      ({ note }) =>
        `The note of ${note.object} at ${note.from_m.toFixed(1)} m lies where no reading has a ` +
        "position; nothing can be said about it.",
    ),
    ...value.alongLine.map((one) => alongText(value, one)),
    ...parallelTexts(work),
    ...wholeTexts(work),
  ];
  return [...new Set(texts)];
}

/** In-phase beside quadrature tells metal from ground; conductivities alone do not. */
const seenInPhase = ({ passes }: Masked) =>
  passes.some(({ instrument }) => instrument.channels.some(({ kind }) => kind === "inphase"));

function unexplainedText(
  { campaign, from_m, to_m }: UnexplainedStretch,
  hasInPhase: boolean,
): string {
  const show = hasInPhase
    ? "show metal"
    : "swing as over metal, or as at the end of a short body of very different ground (there is no " +
      "in-phase to tell the two apart),";
  return (
    `Campaign ${campaign}, ${from_m.toFixed(1)}–${to_m.toFixed(1)} m: the readings ${show} ` +
    "and no note explains it. Go back and look before anything is drilled there."
  );
}

/** Said once, however many: on a noisy line there are dozens. */
function jumpsTexts({ label, unexplained }: Masked): readonly string[] {
  const own = unexplained.filter(({ jumps }) => jumps);
  if (own.length === 0) return [];
  const places = own.map(({ from_m, to_m }) => `${from_m.toFixed(0)}–${to_m.toFixed(0)}`);
  return [
    `Campaign ${label}: at ${listText(places)} m the readings jump one by one, as noise does (a ` +
      "power line, lightning, a loose cable) and a small piece of metal may; no note explains it, " +
      "and they are set aside. What a second walk shows again is no noise; look before anything is " +
      "drilled there.",
  ];
}

function silentText(label: string, { object, from_m, to_m }: SilentNote): string {
  const where = from_m === to_m ? "at" : "from";
  return (
    `Campaign ${label}: the note of ${object} ${where} ${from_m.toFixed(1)} m has no trace in ` +
    "any channel; check the note. It may also be there and too small or deep to be seen."
  );
}

function alongText({ label, interference }: Masked, { from_m, to_m }: AlongLine): string {
  const aside = interference.some((one) => one.from_m <= from_m && one.to_m >= to_m);
  return (
    `Campaign ${label}, ${from_m.toFixed(0)}–${to_m.toFixed(0)} m: the stretch as a whole is ` +
    "unlike any layered ground, as beside a rail, a cable or a sheet-pile wall along the line. " +
    `${aside ? "It is set aside" : "It is still in use"}; compare the other campaigns, and look.`
  );
}

/** How surely the channels tell an object along the line from ground. */
function parallelTexts({ value, profiles }: MaskedWork): readonly string[] {
  if (profiles.length === 0) return [];
  const { label } = value;
  if (!resolvesParallelObjects(profiles, value)) {
    return [
      `Campaign ${label}: the channels cannot tell an object along the line (a guard rail, a ` +
        "cable) from a change of ground; that rests on the field notes.",
    ];
  }
  const channels = profiles.flatMap(({ profile }) => profile.channels);
  if (new Set(channels.map(({ orientation }) => orientation)).size > 1) return [];
  return [
    `Campaign ${label} was walked with the coils in one orientation: an object along the line (a ` +
      "guard rail, a cable) is then easily taken for ground. Where none is found, rest on the " +
      "field notes, or walk the other orientation too.",
  ];
}

/** What holds for the campaign as a whole. */
function wholeTexts({ value, profiles, noted }: MaskedWork): readonly string[] {
  const texts: string[] = [];
  const label = `Campaign ${value.label}`;
  if (noted.length === 0) {
    texts.push(`${label}: no metal or structure was noted, so stretches rest on detection alone.`);
  }
  if (profiles.some(({ complete }) => !complete)) {
    texts.push(
      `${label}: the channels are too few to tell metal from ground by their proportions; only ` +
        "swings of both signs were taken as metal, and a narrow body of ground may be among them.",
    );
  }
  if (profiles.some(({ score }) => score.length > 0 && score.every(Number.isNaN))) {
    texts.push(`${label}: a line has too few readings to look for metal in it.`);
  }
  if (sharePct(value) > 20) {
    texts.push(
      `${label}: more than a fifth of the readings are set aside; see whether the options fit.`,
    );
  }
  return texts;
}
