import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { checkText } from "../../../lib/chain/check/check-text.js";
import { faultLine } from "../../../lib/survey/check/faults.js";
import {
  inFolder,
  minimalSurvey,
  resourceOf,
  type SketchedFolder,
  setCell,
  wholeSurvey,
} from "../../survey/support/survey-folder.js";
import { groundFaults } from "./spoiled/ground.js";
import { lineFaults } from "./spoiled/lines.js";
import { notesFaults } from "./spoiled/notes.js";
import { outOfReachFaults } from "./spoiled/out-of-reach.js";
import { packageFaults } from "./spoiled/package.js";
import { readingsFormFaults } from "./spoiled/readings-form.js";
import { readingsValueFaults } from "./spoiled/readings-values.js";

const spoilings = [
  ...packageFaults,
  ...readingsFormFaults,
  ...readingsValueFaults,
  ...groundFaults,
  ...notesFaults,
  ...lineFaults,
  ...outOfReachFaults,
];

describe("checkSurvey", () => {
  it("finds no fault in a sound survey of every role, nor in a minimal one", async () => {
    for (const survey of [wholeSurvey(), minimalSurvey()]) {
      expect((await inFolder(survey, checkSurvey)).faults).toEqual([]);
    }
  });

  it("has a hundred and ten spoiled folders or more to name", () => {
    expect(spoilings.length).toBeGreaterThanOrEqual(110);
  });

  it.each(spoilings)("names %s", async (_, spoil, [code, file, row, field], text) => {
    const survey = wholeSurvey();
    spoil(survey);
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toMatchObject([{ code, file, row, field, more: 0 }]);
    expect(faultLine(faults[0]!)).toBe(text);
  });

  it("says which channels were not recorded", async () => {
    const survey = wholeSurvey();
    const rows = survey.files["walk.csv"]!;
    for (let i = 0; i < 30; i++) rows.push(`2031-10-14T09:01:${i + 10}+01:00,,,,19.5`);
    for (const row of rows.keys()) {
      if (row === 0) continue;
      setCell(survey, { file: "walk.csv", row: row + 1, field: "c_hcp" }, "");
      setCell(survey, { file: "walk.csv", row: row + 1, field: "c_vcp" }, "19.5");
    }
    const { cautions, faults } = await inFolder(survey, checkSurvey);
    expect(faults).toEqual([]);
    expect(cautions).toContain("walk.csv: channel c_hcp has no value in any row");
    expect(cautions).toContain(
      "walk.csv: channel c_vcp has one value, 19.5, in all rows; was it recorded?",
    );
  });

  it("leaves a large reading alone that others come near", async () => {
    const survey = wholeSurvey();
    for (const row of [2, 3, 4, 5]) {
      setCell(survey, { file: "walk.csv", row, field: "c_hcp" }, String(4000 + row));
    }
    setCell(survey, { file: "walk.csv", row: 6, field: "c_hcp" }, "9999");
    expect((await inFolder(survey, checkSurvey)).faults).toEqual([]);
  });

  it("names a folder without datapackage.json and a folder that is not there", async () => {
    const { faults } = await checkSurvey("no/such/folder");
    expect(faults.map(faultLine)).toEqual([
      "datapackage.json: must be a file in the survey folder, got nothing",
    ]);
  });

  it("collects the faults of all files at once", async () => {
    const survey = wholeSurvey();
    delete survey.files["water-levels.csv"];
    setCell(survey, { file: "walk.csv", row: 2, field: "c_hcp" }, "x");
    setCell(survey, { file: "walk.csv", row: 3, field: "c_vcp" }, "y");
    setCell(survey, { file: "strata.csv", row: 4, field: "top_m" }, "8");
    delete resourceOf(survey, "incidents").role;
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults.map(({ code }) => code).sort()).toEqual([
      "missing-file",
      "missing-property",
      "not-a-number",
      "not-a-number",
      "stratum-reversed",
    ]);
  });

  it("lists twenty faults of a kind and counts the rest", async () => {
    const survey = minimalSurvey();
    const lines = survey.files["walk.csv"]!;
    for (let i = 0; i < 1254; i++) lines.push("2031-10-14T09:01:00+01:00,3.0011,54,n/a,19");
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toHaveLength(20);
    expect(faultLine(faults.at(-1)!)).toBe(
      'walk.csv row 27, field c_hcp: must be a number, got "n/a" (leave the cell blank, or list ' +
        'the mark under "missingValues"), and 1,234 more like it',
    );
  });

  it("reads invalid JSON as one fault", async () => {
    const survey = minimalSurvey();
    survey.files["datapackage.json"] = ['{ "resources": ['];
    const { faults } = await inFolder(survey, checkSurvey);
    expect(faults).toMatchObject([{ code: "invalid-json", file: "datapackage.json" }]);
  });

  it("says what is there and what each step has to work with", async () => {
    const { summary, steps } = await inFolder(wholeSurvey(), checkSurvey);
    expect(summary[0]).toMatchObject({
      file: "walk.csv",
      role: "readings",
      campaign: "2031-10",
      rows: 6,
      from: "2031-10-14T08:00:00Z",
      to: "2031-10-14T08:00:50Z",
    });
    expect(summary.map(({ rows }) => rows)).toEqual([6, 2, 2, 3, 2, 4, 2, 2, 3, 2, 1, 2]);
    expect(steps.map(({ step, ready }) => `${step} ${ready}`)).toEqual([
      "drift true",
      "interference true",
      "depth true",
      "blocks true",
      "campaigns false",
      "sections true",
      "soils false",
      "seepage true",
      "boreholes true",
    ]);
  });

  it("gives a plain text with faults, files and steps", async () => {
    const survey = wholeSurvey();
    setCell(survey, { file: "walk.csv", row: 4, field: "c_hcp" }, "n/a");
    const text = checkText(await inFolder(survey, checkSurvey));
    expect(text).toContain('1 fault:\n  walk.csv row 4, field c_hcp: must be a number, got "n/a"');
    expect(text).toMatch(/walk\.csv {2,}readings {2,}2031-10 {2,}6 rows/);
    expect(text).toMatch(/campaigns {2,}no {2,}1 campaign; a comparison takes two/);
  });
});

describe("checkSurvey has a caution", () => {
  const cautionsOf = async (spoil: (to: SketchedFolder) => void) => {
    const survey = wholeSurvey();
    spoil(survey);
    const { cautions, faults } = await inFolder(survey, checkSurvey);
    expect(faults).toEqual([]);
    return cautions;
  };

  it("of readings that look like parts per thousand", async () => {
    const cautions = await cautionsOf((to) => {
      const channels = resourceOf(to, "readings").instrument.channels;
      for (const channel of channels) {
        Object.assign(channel, { kind: "quadrature", unit: "ppm", frequency_Hz: 9000 });
      }
      for (let row = 2; row <= 6; row++) {
        setCell(to, { file: "walk.csv", row, field: "c_hcp" }, "1.2");
        setCell(to, { file: "walk.csv", row, field: "c_vcp" }, row === 6 ? "" : "1.1");
      }
    });
    expect(cautions.join("\n")).toMatch(
      /walk\.csv: no channel reads more than ground of 48,000 ohm-m gives; .* parts per thousand/,
    );
  });

  it("of base checks hours away from the readings", async () => {
    const cautions = await cautionsOf((to) => {
      const lines = to.files["base-checks.csv"]!;
      to.files["base-checks.csv"] = lines.map((text) => text.replace("T0", "T1"));
    });
    expect(cautions.join()).toContain(
      "base-checks.csv: the nearest check is 9.8 h from the readings",
    );
  });

  it("of a centreline that turns sharply", async () => {
    const cautions = await cautionsOf((to) => {
      const coordinates = [
        [3, 54],
        [3.003, 54],
        [3.001, 54.001],
      ];
      const text = JSON.stringify({ type: "LineString", coordinates });
      to.files["centreline.geojson"] = [text];
    });
    expect(cautions).toContain("centreline.geojson turns by 140 degrees at coordinates[1]");
  });
});
