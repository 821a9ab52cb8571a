import { setAsideTotal } from "../../step/account.js";
import { countText } from "../../step/show/html.js";
import type { Work } from "../work.js";
import { type Answer, inPart, met, none, notAsked, type Requirement } from "./requirement.js";

/** What the record says of the quality of its readings. */
export const quality: readonly Requirement[] = [
  {
    id: "R8",
    asks: "Readings at a base point, the curve of the drift and what is left after its correction",
    where: ["correctDrift"],
    answer: drift,
  },
  {
    id: "R9",
    asks: "Repeated or tie lines as the model of errors",
    where: ["maskInterference", "placeReadings"],
    answer: repeats,
  },
  {
    id: "R10",
    asks: "Error of the zero level, estimated",
    where: ["correctDrift"],
    answer: ({ drift }) =>
      drift.some(({ value }) => value.zeroLevel !== undefined)
        ? met("A height test at the fixed spot gives the zero of each channel.")
        : none("No height test was made; each channel's zero is left to the model's own errors."),
  },
  {
    id: "R11",
    asks: "In-phase beside quadrature",
    where: ["openSurvey", "correctDrift"],
    answer: ({ survey }) => {
      const channels = survey.value.campaigns
        .flatMap(({ passes }) => passes)
        .flatMap(({ instrument }) => instrument.channels);
      const inphase = channels.filter(({ kind }) => kind === "inphase").length;
      return inphase > 0
        ? met("Both are read, corrected and set aside side by side.")
        : none("The instrument gave no in-phase.");
    },
  },
  {
    id: "R12",
    asks: "Contact resistance, stacks and reciprocals of resistivity readings",
    where: ["invertSection"],
    answer: electrodes,
  },
  {
    id: "R13",
    asks: "Edits counted and reproducible",
    where: ["maskInterference", "gatherFindings"],
    answer: edits,
  },
  {
    id: "R14",
    asks: "Back-up of the raw data",
    where: ["handOver"],
    answer: () =>
      none(
        "Where copies are kept is not recorded; the sha-256 of each file tells a copy that is whole.",
      ),
  },
];

function drift({ drift: corrected }: Work): Answer {
  const channels = corrected.flatMap(({ value }) => value.drift);
  const checks = corrected.reduce((sum, { value }) => sum + value.baseChecks.length, 0);
  const told = channels.filter(({ residual }) => !Number.isNaN(residual)).length;
  if (checks === 0) return none("No readings at a fixed spot.");
  const text = `${countText(checks, "reading")} at the fixed spot; curve of every channel`;
  if (told === channels.length) return met(`${text} with its residual.`);
  return inPart(
    `${text}; the residual of ${channels.length - told} of ${channels.length} is unknown.`,
  );
}

function repeats({ survey }: Work): Answer {
  const walked = survey.value.campaigns.map(({ passes }) => passes.length);
  const most = Math.max(0, ...walked);
  return most > 1
    ? met(
        `${most} passes of one campaign over the same ground; noise from repeats and from the walk.`,
      )
    : inPart(
        "One pass a campaign: noise is from repeats at the fixed spot and from the walk itself.",
      );
}

function electrodes({ survey, sections = [] }: Work): Answer {
  if (survey.value.resistivityLines.length === 0) return notAsked("No electrode line was laid.");
  const pairs = sections.reduce((sum, { value }) => sum + value.errors.reciprocals, 0);
  const found = `${countText(pairs, "reciprocal")} and the stacking's deviation`;
  return inPart(`${found}; contact resistances have no place in the survey folder.`);
}

function edits({ masked }: Work): Answer {
  const aside = masked.reduce(
    (sum, { accounting }) => sum + (accounting === null ? 0 : setAsideTotal(accounting)),
    0,
  );
  return met(`${countText(aside, "reading")} set aside, each with its cause in accounting.csv.`);
}
