import { expect, it } from "vitest";
import { answerRequirements } from "../../../lib/chain/requirements/answer-requirements.js";
import type { Work } from "../../../lib/chain/work.js";
import { StepResult } from "../../../lib/step/step-result.js";
import { smallSurvey } from "../../support/small-survey.js";
import { opened } from "../support/one-campaign.js";

const result = <Value>(value: Value) =>
  new StepResult({
    ...{ step: "x", summary: "", value, used: {}, basis: [], cautions: [], accounting: null },
    ...{ figures: [], tables: [] },
  });

const slices = {
  ...{ campaign: "2031-10", chainage_m: new Float64Array([1, 2]), reliableTo_m: 3.9 },
  misfit: new Float64Array([Number.NaN, 1.25]),
};

/** A work of which only what the answers look at is there. */
function workOf(survey: Partial<ReturnType<typeof smallSurvey>>): Work {
  return {
    survey: opened({ ...smallSurvey({}), ...survey }),
    drift: [result({ baseChecks: [], drift: [] })],
    masked: [result({ interference: [] })],
    slices: [result(slices)],
    ...{ blocks: result({ campaign: "2031-10", blocks: [] }), changes: [], decisions: [] },
  } as unknown as Work;
}

const answersOf = (work: Work) =>
  new Map(answerRequirements(work).value.map((answer) => [answer.id, answer]));

it("answers every requirement once, in order", () => {
  const ids = [...answersOf(workOf({})).keys()];
  expect(ids).toEqual(Array.from({ length: 24 }, (_, i) => `R${i + 1}`));
});

it("says what is not recorded, and what does not apply", () => {
  const answers = answersOf(
    workOf({ fieldNotes: [], soilTemperature: [], waterLevels: [], resistivityLines: [] }),
  );
  expect(answers.get("R5")).toMatchObject({
    state: "not recorded",
    text: "Nothing; not recorded: soil temperatures, water levels, weather and moisture.",
  });
  expect(answers.get("R7")?.state).toBe("not recorded");
  expect(answers.get("R8")).toMatchObject({ state: "not recorded" });
  expect(answers.get("R12")).toMatchObject({ state: "does not apply" });
  expect(answers.get("R16")?.text).toBe("Walk: median misfit 1.25, reliable to 3.9 m.");
  expect(answers.get("R24")?.state).toBe("not recorded");
});

it("names what the record has", () => {
  const soilTemperature = [{ time_s: 0, depth_m: 0.5, temperature_degC: 9 }];
  const edition = {
    ...{ version: "", created: "" },
    contributors: [{ title: "R. Reed", role: "reviewer", organization: "" }],
  };
  const answers = answersOf(workOf({ soilTemperature, waterLevels: [], edition }));
  expect(answers.get("R5")).toMatchObject({
    state: "in part",
    text: "1 soil temperature; not recorded: water levels, weather and moisture.",
  });
  expect(answers.get("R24")?.text).toContain("R. Reed");
});
