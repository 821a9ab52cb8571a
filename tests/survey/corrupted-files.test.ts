import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../lib/chain/check/check-survey.js";
import { checkText } from "../../lib/chain/check/check-text.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { setAsideTotal } from "../../lib/step/account.js";
import { StepError } from "../../lib/step/step-error.js";
import { inFolder, wholeSurvey } from "./support/survey-folder.js";

const files = Object.keys(wholeSurvey().files);
const nasty = fc.oneof(
  fc.constantFrom("", '"', ",", "\n", "\r", "\0", "NaN", "1e300", "-1e300", "1e999", "0", "-1"),
  fc.constantFrom("180", "-90", "Infinity", "2031-10-14", "９", "\ufeff", "null", "{}", "1,5"),
  fc.string({ unit: "binary", maxLength: 12 }),
  fc.double().map(String),
);
/** Cuts a piece out of a file and puts another text in its place. */
const corruption = fc.record({
  file: fc.constantFrom(...files),
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  cut: fc.nat({ max: 12 }),
  text: nasty,
});

describe("a corrupted folder", () => {
  it("never crashes the check, and openSurvey refuses what the check refuses", async () => {
    const corruptions = fc.array(corruption, { minLength: 1, maxLength: 4 });
    await fc.assert(
      fc.asyncProperty(corruptions, async (changes) => {
        const survey = wholeSurvey();
        for (const { file, at, cut, text } of changes) {
          const whole = survey.files[file]!.join("\n");
          const start = Math.floor(at * whole.length);
          survey.files[file] = [whole.slice(0, start) + text + whole.slice(start + cut)];
        }
        await inFolder(survey, async (folder) => {
          const check = await checkSurvey(folder);
          expect(checkText(check)).toMatch(check.faults.length === 0 ? /^No faults/ : /^\d+ fault/);
          const opened = await openSurvey(folder).catch((error: unknown) => error);
          expect(opened instanceof StepError).toBe(check.faults.length > 0);
          if (opened instanceof StepError) return;
          const { accounting } = opened as Awaited<ReturnType<typeof openSurvey>>;
          const { kept, corrected } = accounting!;
          const rows = check.summary.find(({ role }) => role === "readings")!.rows;
          expect(kept + corrected + setAsideTotal(accounting!)).toBe(rows);
        });
      }),
      { numRuns: 150, seed: 2031 },
    );
  });

  it("never crashes the check when datapackage.json itself is anything JSON", async () => {
    await fc.assert(
      fc.asyncProperty(fc.jsonValue(), fc.nat(), async (value, place) => {
        const survey = wholeSurvey();
        const properties = Object.keys(survey.package.resources[1]);
        survey.package.resources[1][properties[place % properties.length]!] = value;
        survey.package.survey[place % 2 ? "crs" : "waterside"] = value;
        const { faults } = await inFolder(survey, checkSurvey);
        expect(faults.every(({ rule, value: found }) => rule !== "" && found !== "")).toBe(true);
      }),
      { numRuns: 80, seed: 2031 },
    );
  });
});
