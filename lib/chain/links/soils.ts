import { predictSoils, soilsStep } from "../../boreholes/soils/predict-soils.js";
import type { Soils } from "../../boreholes/soils/soils.js";
import { countText } from "../../step/show/html.js";
import type { Survey } from "../../survey/survey.js";
import { ask, type Link, type Readiness } from "../link.js";
import { referenceOf, surveyOf } from "../work.js";
import { holesAgainstWalk } from "./holes-against-walk.js";

export const soilsLink: Link = {
  step: soilsStep,
  gives: "soils",
  takes: ["survey", "placed", "reference", "blocks"],
  run: function* (work, decided) {
    const survey = surveyOf(work);
    if (survey.value.boreholes.length === 0) return undefined;
    const evidence = { survey, slices: referenceOf(work), blocks: work.blocks };
    return yield* ask(predictSoils, evidence, decided);
  },
  readiness: { step: "soils", of: readiness },
  absent: (work) =>
    surveyOf(work).value.boreholes.length === 0
      ? "No boreholes: soils along the bank are not told."
      : null,
  unanswered: (work) => {
    const { boreholes } = surveyOf(work).value;
    const text = boreholes.length < 2 ? null : holesAgainstWalk(referenceOf(work).value, boreholes);
    return text === null ? [] : [text];
  },
  effect: (before, after) => {
    const [was, is] = [soilsText(before.soils?.value), soilsText(after.soils?.value)];
    return was === is ? null : `Soils: ${is} (instead of: ${was}).`;
  },
};

/** How well the boreholes tell each other, the parts that have a name. */
function soilsText(soils: Soils | undefined): string {
  if (soils === undefined || soils.refused !== null) return "not predicted";
  const properties = soils.properties.map(
    ({ name, leftOut }) => `${name} to ${leftOut.rms.toFixed(0)} %`,
  );
  const classes = soils.classesLeftOut;
  const kinds =
    classes === null ? [] : [`kind told rightly in ${classes.right} of ${classes.count} slices`];
  return [...properties, ...kinds].join(", ");
}

const NO_BOREHOLES = "no boreholes; classes cannot be named from local ground";

function readiness({ boreholes }: Survey): Readiness {
  const logged = boreholes.filter(({ strata }) => strata.length > 0).length;
  const tested = boreholes.filter(({ laboratory }) => laboratory.length > 0).length;
  const cannot = boreholes.length >= 3 ? "" : "tell soils along the bank, for want of 3 boreholes";
  if (boreholes.length === 0) return { ready: false, text: NO_BOREHOLES, cannot };
  const text =
    `${countText(boreholes.length, "borehole")}, ${logged} with strata, ` +
    `${tested} with laboratory values`;
  return { ready: boreholes.length >= 3, text, cannot };
}
