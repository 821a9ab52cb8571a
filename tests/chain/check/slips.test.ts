import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { faultLine } from "../../../lib/survey/check/faults.js";
import { inFolder, type SketchedFolder, wholeSurvey } from "../../survey/support/survey-folder.js";
import { groundSlips } from "./spoiled/ground-slips.js";
import { walkSlips } from "./spoiled/walk-slips.js";

/** Of the sketch's own: its few readings fit no ground, and its files have no schema. */
const OF_THE_SKETCH = /no layered ground fits|has no schema|readings?( of \d+)? without a position/;

async function saidOf(sketch: SketchedFolder): Promise<readonly string[]> {
  const { faults, cautions } = await inFolder(sketch, checkSurvey);
  return [...faults.map(faultLine), ...cautions.filter((text) => !OF_THE_SKETCH.test(text))];
}

const slips = [...walkSlips, ...groundSlips];

describe("checkSurvey", () => {
  it("has nothing to say of the sketch as it is, and eighty slips to see", async () => {
    expect(await saidOf(wholeSurvey())).toEqual([]);
    expect(slips.length).toBeGreaterThanOrEqual(80);
  });

  it.each(slips)("sees %s", async (_, spoil, said) => {
    const survey = wholeSurvey();
    spoil(survey);
    expect(await saidOf(survey)).toEqual(said);
  });
});
