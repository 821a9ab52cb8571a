// What real files do: marks, separators, line ends, headers again, cells too many, many rows.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkSurvey } from "../../lib/chain/check/check-survey.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { closes } from "../../lib/step/account.js";
import { FaultLog } from "../../lib/survey/check/faults.js";
import { csvBatches } from "../../lib/survey/read/table/csv.js";
import { inFolder, minimalSurvey, type SketchedFolder } from "./support/survey-folder.js";
import { walkedSurvey } from "./support/walked-survey.js";

const open = (sketch: SketchedFolder) => inFolder(sketch, (folder) => openSurvey(folder));
const textsOf = (cautions: readonly { readonly text: string }[]) =>
  cautions.map(({ text }) => text);

describe("a file as loggers and spreadsheets write it", () => {
  it("with a mark, semicolons, decimal commas, CRLF and blank lines reads the same, and it is said", async () => {
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
    const [one, two] = [await open(plain), await open(other)];
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
    const { value, accounting, cautions } = await open(survey);
    expect(accounting!.readings).toBe(6);
    expect([...value.campaigns[0]!.passes[0]!.row]).toEqual([2, 3, 6, 7, 8, 9]);
    expect(textsOf(cautions)).toContain(
      "walk.csv: the header is there again in rows 4, 5; not read as data.",
    );
  });

  it("with separators at the ends of rows has blank cells beyond the header, which do no harm", async () => {
    const survey = minimalSurvey();
    survey.files["walk.csv"] = survey.files["walk.csv"]!.map((line, i) =>
      i > 0 ? `${line},` : line,
    );
    const { accounting, cautions } = await open(survey);
    expect(accounting!.readings).toBe(6);
    expect(textsOf(cautions)).toContain(
      "walk.csv: 6 rows with blank cells beyond the header; those are not read.",
    );
  });

  it("with times missing in the middle places its readings between those that have one", async () => {
    const sketch = walkedSurvey({ seed: 4, jitter_m: 0.1 });
    const lines = sketch.files["walk-1.csv"]!;
    for (let row = 50; row < 60; row++) lines[row] = lines[row]!.replace(/^[^,]*/, "");
    const { accounting, value } = await open(sketch);
    expect(accounting!.kept).toBe(500);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    for (let i = 49; i < 59; i++) {
      expect(Math.abs(chainage_m[i]! - sketch.truth_m[0]![i]!)).toBeLessThan(0.6);
    }
  });

  it("with epochs missing, times shared and times blank says how many", async () => {
    const sketch = walkedSurvey({ seed: 4 });
    const lines = sketch.files["walk-1.csv"]!;
    lines[10] = lines[10]!.replace(/^[^,]*/, "");
    lines[21] = lines[21]!.replace(/^[^,]*/, lines[20]!.split(",")[0]!);
    lines.splice(400, 12);
    lines.splice(300, 5);
    const { cautions, accounting } = await open(sketch);
    expect(accounting!.readings).toBe(483);
    expect(textsOf(cautions)).toEqual(
      expect.arrayContaining([
        "walk-1.csv: 1 reading without a time; placed in time by order of rows.",
        "walk-1.csv: 1 reading with the time of the row before.",
        "walk-1.csv: 2 gaps in time of up to 13 s, where readings are missing.",
      ]),
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

describe("csvBatches", () => {
  const parse = (pieces: readonly string[]) => {
    const log = new FaultLog();
    const source = { file: "a.csv", pieces, dialect: {}, delimiter: "," };
    const records = [...csvBatches(source, log)].flat();
    return { records, faults: log.faults };
  };

  it("gives the same records wherever the text is cut", () => {
    const cell = fc.oneof(
      fc.constantFrom('"a,b"', '"a\nb"', '"a ""b"""', "", "1.5", "x", '"\r\n"', "é"),
      fc.stringMatching(/^[a-z0-9 .;-]{0,6}$/),
    );
    const row = fc.array(cell, { minLength: 1, maxLength: 4 }).map((cells) => cells.join(","));
    const text = fc
      .tuple(fc.array(row, { minLength: 1, maxLength: 8 }), fc.constantFrom("\n", "\r\n", "\r"))
      .map(([rows, end]) => rows.join(end));
    fc.assert(
      fc.property(text, fc.array(fc.nat(60), { maxLength: 5 }), (whole, cuts) => {
        const places = [0, ...cuts.toSorted((a, b) => a - b), whole.length];
        const pieces = places.slice(1).map((to, k) => whole.slice(places[k], to));
        expect(parse(pieces)).toEqual(parse([whole]));
      }),
      { numRuns: 400, seed: 2031 },
    );
  });
});

describe("a spoiled file of readings", () => {
  it("never crashes the check, and where it opens every row has an account", async () => {
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
