// One campaign over two makes of bank, as if it had been opened from a folder.
import { StepResult } from "../../../lib/step/step-result.js";
import type { Survey } from "../../../lib/survey/survey.js";
import { smallSurvey } from "../../support/small-survey.js";
import { walked } from "../../support/walked.js";

/** A survey as `openSurvey` would hand it on. */
export function opened(survey: Survey): StepResult<Survey> {
  return new StepResult({
    step: "openSurvey",
    summary: "",
    value: survey,
    used: {},
    basis: [],
    cautions: [],
    accounting: null,
    figures: [],
    tables: [],
  });
}

/** 200 m of 25 ohm-m beside 200 m of 60 ohm-m, the upper metre and a half of each. */
export function oneCampaign(): StepResult<Survey> {
  const groundAt = (x: number) => ({
    thickness_m: [1.5],
    conductivity_S_per_m: [x < 200 ? 1 / 25 : 1 / 60, 0.02],
  });
  const campaign = walked({ groundAt, length_m: 400, noise: 0.5, seed: 71, label: "2031-10" });
  return opened(smallSurvey({ campaigns: [campaign], length_m: 400 }));
}
