import { describe, expect, it } from "vitest";
import { answersText, earlierAnswers, parseAnswers } from "../../../lib/survey/import/answers.js";
import { proposed, rawFile, table } from "./support/imported.js";

describe("a file of answers", () => {
  it("is read line by line: remarks and empty answers are none, a value may hold signs", () => {
    const text =
      "\ufeff# remark\r\ntimezone = UTC\r\nheight_m =\r\ncrs definition = +proj=tmerc +k=1\nwalk.csv: role=readings\n";
    expect(parseAnswers(text)).toEqual({
      faults: [],
      answers: new Map([
        ["timezone", "UTC"],
        ["crs definition", "+proj=tmerc +k=1"],
        ["walk.csv: role", "readings"],
      ]),
    });
  });

  it("names rows that hold no answer, and a second answer to one question", () => {
    const { faults } = parseAnswers("timezone\ncrs = 32631\ncrs = 32632\n= 5");
    expect(faults).toEqual([
      'row 1: must be "question = answer", got "timezone"',
      'row 3: must be another question than before, got "crs"',
      'row 4: must be "question = answer", got "= 5"',
    ]);
  });

  it("is written with each question, its guess and its reason, and reads back", () => {
    const text = table(
      "Time,X,Y,Q 9k HCP 1.8m [ppm]",
      9,
      (i) => `2031-10-14T08:00:0${i}Z,${i},52,${i}`,
    );
    const { questions } = proposed([rawFile("walk.csv", text)], { timezone: "UTC" });
    const written = answersText(questions, new Map([["timezone", "UTC"]]));
    expect(written).toContain("\ntimezone = UTC\n");
    expect(written).toMatch(
      /# \(guessed: numbers of up to 180\)\nwalk\.csv: column X = longitude\n/,
    );
    const { answers, faults } = parseAnswers(written);
    expect(faults).toEqual([]);
    expect(answers.get("walk.csv: column Y")).toBe("latitude");
    for (const { key, guess } of questions) expect(answers.get(key) ?? null).toBe(guess);
  });

  it("holds for later files where all earlier ones agreed, and where it outlives its day", () => {
    const settled = [
      { key: "a.txt: orientation", value: "HCP" },
      { key: "b.txt: orientation", value: "VCP" },
      { key: "a.txt: date order", value: "day/month/year" },
      { key: "b.txt: date order", value: "day/month/year" },
      { key: "timezone", value: "+02:00" },
      { key: "campaign", value: "first" },
      { key: "a.txt: role", value: "readings" },
      { key: "height_m", value: "0.9" },
    ];
    expect([...earlierAnswers(settled)]).toEqual([
      ["date order", "day/month/year"],
      ["height_m", "0.9"],
    ]);
    const zone = earlierAnswers([{ key: "timezone", value: "Europe/Amsterdam" }]);
    expect(zone.get("timezone")).toBe("Europe/Amsterdam");
  });
});
