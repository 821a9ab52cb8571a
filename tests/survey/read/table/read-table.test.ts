import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../../../lib/chain/check/check-survey.js";
import { openSurvey } from "../../../../lib/place/open-survey.js";
import { openFolder, textsOf } from "../../../place/support/opened.js";
import { inFolder, minimalSurvey } from "../../support/survey-folder.js";
import { walkedSurvey } from "../../support/walked-survey.js";

describe("a file as loggers and spreadsheets write it", () => {
  it("with a mark, semicolons, decimal commas, CRLF, blank lines reads the same", async () => {
    const plain = minimalSurvey();
    const other = minimalSurvey();
    const foreign = other.files["walk.csv"]!.map((line) =>
      line.replaceAll(",", ";").replaceAll(".", ","),
    );
    other.files["walk.csv"] = [
      `\ufeff${foreign[0]}\r`,
      "\r",
      ...foreign.slice(1).map((line) => `${line}\r`),
      "\r",
      "",
    ];
    const [one, two] = [await openFolder(plain), await openFolder(other)];
    const values = (result: typeof one) =>
      result.value.campaigns[0]!.passes[0]!.values.map((column) => [...column]);
    expect(values(two)).toEqual(values(one));
    expect(two.value.campaigns[0]!.passes[0]!.chainage_m).toEqual(
      one.value.campaigns[0]!.passes[0]!.chainage_m,
    );
    expect(textsOf(two.cautions)).toEqual(
      expect.arrayContaining([
        "walk.csv: cells are separated by semicolons, which no dialect says; read so.",
        "walk.csv: decimals have a comma, which no decimalChar says; read so.",
      ]),
    );
    expect([...two.value.campaigns[0]!.passes[0]!.row]).toEqual([3, 4, 5, 6, 7, 8]);
  });

  it("that was joined from parts has its header again, counted and passed over", async () => {
    const survey = minimalSurvey();
    const lines = survey.files["walk.csv"]!;
    lines.splice(3, 0, lines[0]!, `\ufeff${lines[0]!}`);
    const { value, accounting, cautions } = await openFolder(survey);
    expect(accounting!.readings).toBe(6);
    expect([...value.campaigns[0]!.passes[0]!.row]).toEqual([2, 3, 6, 7, 8, 9]);
    expect(textsOf(cautions)).toContain(
      "walk.csv: the header is there again in rows 4, 5; not read as data.",
    );
  });

  it("with remarks, blanks behind commas and its own escape, as its dialect says", async () => {
    const survey = minimalSurvey();
    const lines = survey.files["walk.csv"]!.map((line) => line.replaceAll(",", ", "));
    lines.splice(2, 0, '# a remark, "with, commas"');
    survey.files["walk.csv"] = lines;
    const dialect = { commentChar: "#", skipInitialSpace: true, escapeChar: "\\" };
    survey.package.resources[1].dialect = dialect;
    const { value } = await openFolder(survey);
    expect([...value.campaigns[0]!.passes[0]!.row]).toEqual([2, 4, 5, 6, 7, 8]);
  });

  it("with separators at the ends of rows has blank cells too many, which do no harm", async () => {
    const survey = minimalSurvey();
    survey.files["walk.csv"] = survey.files["walk.csv"]!.map((line, i) =>
      i > 0 ? `${line},` : line,
    );
    const { accounting, cautions } = await openFolder(survey);
    expect(accounting!.readings).toBe(6);
    expect(textsOf(cautions)).toContain(
      "walk.csv: 6 rows with blank cells beyond the header; those are not read.",
    );
  });

  it("in UTF-16 is told by its mark, and read where the encoding is given", async () => {
    const survey = minimalSurvey();
    const text = `\ufeff${survey.files["walk.csv"]!.join("\r\n")}`;
    const asUtf16 = (folder: string) => writeFileSync(join(folder, "walk.csv"), text, "utf16le");
    const hint = await inFolder(survey, async (folder) => {
      asUtf16(folder);
      return (await checkSurvey(folder)).faults[0]!.hint;
    });
    expect(hint).toBe('looks like "encoding": "utf-16le"');
    survey.package.resources[1].encoding = "utf-16le";
    const rows = await inFolder(survey, async (folder) => {
      asUtf16(folder);
      return (await openSurvey(folder)).accounting!.readings;
    });
    expect(rows).toBe(6);
  });

  it("of several megabytes is read in pieces, with progress, to the last row", async () => {
    const survey = walkedSurvey({ seed: 1, readings: 80 });
    const lines = survey.files["walk-1.csv"]!;
    const start = Date.UTC(2031, 9, 14, 8);
    const [, longitude, latitude] = lines[1]!.split(",");
    for (let i = lines.length - 1; i < 60_000; i++) {
      const time = new Date(start + 1000 * i).toISOString();
      lines.push(`${time},${longitude},${latitude},${20 + (i % 7)},${20 + (i % 5)}`);
    }
    await inFolder(survey, async (folder) => {
      const told: number[] = [];
      const progress = (file: string, share: number) => file === "walk-1.csv" && told.push(share);
      const { summary, faults } = await checkSurvey(folder, { progress });
      expect(faults).toEqual([]);
      expect(summary[0]!.rows).toBe(60_000);
      expect(told.length).toBeGreaterThan(2);
      expect(told.toSorted((a, b) => a - b)).toEqual(told);
      expect(told.at(-1)).toBe(1);
    });
  });
});
