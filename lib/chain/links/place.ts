import { placeReadings, placeStep, placingOf } from "../../place/place-readings.js";
import { ask, type Link } from "../link.js";
import { surveyOf, type Work } from "../work.js";

export const placeLink: Link = {
  step: placeStep,
  gives: "placed",
  takes: ["survey"],
  run: function* ({ survey }, decided) {
    return survey.value.asRead ? yield* ask(placeReadings, survey, decided) : undefined;
  },
  used: ({ survey, placed }) => placingOf((placed ?? survey).used),
  absent: ({ survey, placed }) =>
    survey.value.asRead || placed
      ? null
      : "The survey was not read from files: its readings stand where they were given.",
  effect: (before, after) => movedText(chainages(before), chainages(after)),
};

/** The chainage of every reading, in file order. */
function chainages(work: Work): readonly Float64Array[] {
  const { campaigns } = surveyOf(work).value;
  return campaigns.flatMap(({ passes }) => passes.map(({ chainage_m }) => chainage_m));
}

function movedText(before: readonly Float64Array[], after: readonly Float64Array[]): string | null {
  let most_m = 0;
  let lost = 0;
  for (const [p, chainage_m] of before.entries()) {
    for (const [i, was] of chainage_m.entries()) {
      const is = after[p]?.[i] ?? Number.NaN;
      if (Number.isNaN(was) !== Number.isNaN(is)) lost += Number.isNaN(is) ? 1 : -1;
      else if (Math.abs(is - was) > most_m) most_m = Math.abs(is - was);
    }
  }
  const moved = most_m >= 0.05 ? `Readings move by up to ${most_m.toFixed(1)} m.` : "";
  const count = Math.abs(lost).toLocaleString("en");
  const placed = lost === 0 ? "" : `${count} readings ${lost > 0 ? "fewer" : "more"} have a place.`;
  return moved + placed === "" ? null : [moved, placed].filter((text) => text !== "").join(" ");
}
