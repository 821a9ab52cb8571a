import { correctDrift, driftStep } from "../../drift/correct-drift.js";
import type { Campaign, Survey } from "../../survey/survey.js";
import { significant } from "../digits.js";
import { askEach, type Link, type Readiness } from "../link.js";
import { surveyOf, type Work } from "../work.js";
import { without } from "./lacking.js";

export const driftLink: Link = {
  step: driftStep,
  gives: "drift",
  takes: ["survey", "placed"],
  run: (work, decided) => askEach(correctDrift, surveyOf(work).value.campaigns, decided),
  about: ({ value }) => value.label,
  readiness: { step: "drift", of: readiness },
  findings: ({ drift }) => ({
    drift: drift.flatMap(({ value }) =>
      value.drift.map(({ campaign, channel, model, perHour, residual, checks }) => ({
        campaign,
        channel,
        model,
        perHour: finite(perHour) ?? 0,
        residual: finite(residual),
        checks,
      })),
    ),
  }),
  unanswered: ({ drift }) =>
    drift
      .filter(({ value }) => value.baseChecks.length === 0)
      .map(
        ({ value }) =>
          `${value.label}: without base checks drift cannot be told from the ground; a slow trend ` +
          "along the walk may be the instrument's.",
      ),
  effect: (before, after) => {
    const [was, is] = [corrected(before), corrected(after)];
    return was === is ? null : `${is} channels are corrected for drift instead of ${was}.`;
  },
};

const finite = (value: number) => (Number.isFinite(value) ? significant(value) : null);

function corrected({ drift }: Work): number {
  const channels = drift.flatMap(({ value }) => value.drift);
  return channels.filter(({ model }) => model !== "none").length;
}

function readiness(survey: Survey): Readiness {
  const { campaigns } = survey;
  const noBase = ({ baseChecks }: Campaign) => baseChecks.length === 0;
  const parts = campaigns.map(({ label, baseChecks }) =>
    baseChecks.length > 0
      ? `${baseChecks.length} base checks in ${label}`
      : `no base checks in ${label}, whose drift cannot be seen`,
  );
  return {
    ready: !campaigns.every(noBase),
    text: parts.join(", "),
    cannot: without(survey, noBase, "tell drift from the ground but where passes overlap"),
  };
}
