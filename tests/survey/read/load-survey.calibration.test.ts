import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { checkText } from "../../../lib/chain/check/check-text.js";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { closes, setAsideTotal } from "../../../lib/step/account.js";
import { StepError } from "../../../lib/step/step-error.js";
import { inFolder, wholeSurvey } from "../support/survey-folder.js";
import { walkedSurvey } from "../support/walked-survey.js";

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

  it("never crashes the check with spoiled rows; what opens accounts for each row", async () => {
    const spoil = fc.record({
      row: fc.nat({ max: 499 }),
      what: fc.constantFrom(
        "cut",
        "twice",
        "blank",
        "header",
        "time",
        "swap",
        "word",
        "hole",
        "comma",
      ),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(spoil, { minLength: 1, maxLength: 12 }), async (spoils) => {
        const survey = walkedSurvey({ seed: 5, jitter_m: 0.4, gaps: [[40, 52]] });
        const lines = survey.files["walk-1.csv"]!;
        for (const { row, what } of spoils) spoilRow(lines, row + 1, what);
        await inFolder(survey, async (folder) => {
          const check = await checkSurvey(folder);
          const rows = check.summary[0]!.rows;
          if (check.faults.length > 0) return;
          const { accounting, value } = await openSurvey(folder);
          expect(accounting!.readings).toBe(rows);
          expect(closes(accounting!)).toBe(true);
          const pass = value.campaigns[0]!.passes[0]!;
          for (let i = 0; i < pass.count; i++) {
            const isUsed = pass.setAside.some((mask) => mask[i] === 0);
            if (isUsed)
              expect(Number.isFinite(pass.chainage_m[i]! + pass.positionSd_m![i]!)).toBe(true);
          }
        });
      }),
      { numRuns: 60, seed: 2031 },
    );
  });
});

function spoilRow(lines: string[], row: number, what: string): void {
  const cells = lines[row]!.split(",");
  if (what === "cut") lines[row] = lines[row]!.slice(0, 30);
  if (what === "twice") lines.splice(row, 0, lines[row]!);
  if (what === "blank") lines.splice(row, 0, "");
  if (what === "header") lines.splice(row, 0, lines[0]!);
  if (what === "time") lines[row] = ["", ...cells.slice(1)].join(",");
  if (what === "swap") lines[row] = [cells[0], cells[2], cells[1], ...cells.slice(3)].join(",");
  if (what === "word") lines[row] = [...cells.slice(0, 3), "err", cells[4]].join(",");
  if (what === "hole") lines[row] = [cells[0], "", "", ...cells.slice(3)].join(",");
  if (what === "comma") lines[row] = lines[row]!.replaceAll(",", ";");
}
