// An appendix executed again: nothing differs in a fresh one, and each alteration is named alone.
import { mkdtempSync, rmSync } from "node:fs";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ClaimPair } from "../../../lib/review/claims/claim.js";
import { banquetteIn } from "./banquette.js";
import { altered, copied, makeAppendix } from "./support/short-appendix.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-review-"));

beforeAll(async () => {
  const made = await makeAppendix(folder);
  expect(made.exitCode, made.err).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Stored {
  readonly cells: {
    readonly id: string;
    execution_count?: number | null;
    readonly outputs?: { readonly data?: Record<string, unknown> }[];
  }[];
}

/** Changes a copy, has it reviewed, and gives the exit code and what the review says. */
async function reviewed(
  name: string,
  change: (at: string) => Promise<unknown>,
  ...words: string[]
) {
  const at = join(folder, name);
  await mkdir(at);
  await copied(folder, at);
  await change(at);
  const ended = await banquetteIn(at, ["review", "out", ...words]);
  const review = JSON.parse(await readFile(join(at, "out/review.json"), "utf8"));
  const page = await readFile(join(at, "out/review.html"), "utf8");
  return { ...ended, review, page };
}

async function alteredNotebook(at: string, change: (stored: Stored) => void): Promise<void> {
  const file = join(at, "out/appendix.ipynb");
  const stored = JSON.parse(await readFile(file, "utf8")) as Stored;
  change(stored);
  await writeFile(file, JSON.stringify(stored));
}

const lists = "inputs versions code order cells figures numbers files".split(" ");
const nothing = Object.fromEntries(lists.map((list) => [list, []]));

describe("banquette review", () => {
  it("finds nothing in a fresh appendix, and says what a second interpreter agrees with", async () => {
    const second = "from_m,to_m,class\n0,40,A\n40,100,B\n";
    const { exitCode, out, err, review, page } = await reviewed(
      "fresh",
      async (at) => {
        await writeFile(join(at, "second.csv"), second);
        await writeFile(join(at, "sheet.csv"), "claim,verdict,remark\nblock B1,unsure,too short\n");
      },
      ...["--blocks", "second.csv", "--sheet", "sheet.csv", "--beside", join(folder, "out")],
    );
    expect({ exitCode, faults: err.match(/^banquette: .*$/gm) }).toEqual({
      exitCode: 0,
      faults: null,
    });
    expect(review).toMatchObject({ agrees: true, failed: null, ...nothing });
    expect(review.compared.figures).toBeGreaterThan(2);
    expect(review.compared.files).toBe(14);
    expect(review.secondInterpreter).toMatchObject({ otherBoundaries: 1 });
    expect(out).toContain("Executed again, it gives what it holds.");
    expect(page).toContain("Executed again, it gives what it holds.");
    const [claim] = review.sheet.claims;
    expect(claim).toEqual({ claim: "block B1", verdict: "unsure", remark: "too short" });
    expect(review.beside.length).toBeGreaterThan(0);
    expect(new Set(review.beside.map(({ outcome }: ClaimPair) => outcome))).toEqual(
      new Set(["both"]),
    );
    expect(out).toContain("unsure 1");
    expect(page).toContain("too short");
    expect(page).toContain("said by both");
  });

  it("writes a reviewer's sheet that is not there, and refuses one that is not of this appendix", async () => {
    const at = join(folder, "sheet");
    await mkdir(at);
    await copied(folder, at);
    const blank = await banquetteIn(at, ["review", "out", "--sheet", "sheet.csv"]);
    expect(blank).toMatchObject({ exitCode: 0, err: "" });
    expect(blank.out).toContain("Written: sheet.csv, a row a claim.");
    await altered(join(at, "sheet.csv"), "block B1", "block B99");
    const refused = await banquetteIn(at, ["review", "out", "--sheet", "sheet.csv"]);
    expect(refused.exitCode).toBe(1);
    expect(refused.err).toBe(
      'banquette: sheet.csv: row 2, claim: must be a claim of the appendix, got "block B99"\n',
    );
    const none = await banquetteIn(at, ["review", "out", "--beside", "bank"]);
    expect(none.err).toBe("banquette: bank: is no appendix, findings.json not there\n");
  });

  it("names the file of a reading that was altered, and what follows from it", async () => {
    const { exitCode, err, review } = await reviewed("reading", (at) =>
      altered(join(at, "bank/walk-1-2031-10.csv"), ",1979.8,", ",2979.8,"),
    );
    expect(exitCode).toBe(1);
    expect(review.inputs.map((one: { name: string }) => one.name)).toEqual(["walk-1-2031-10.csv"]);
    expect(err).toContain("banquette: input walk-1-2031-10.csv is another: sha-256 ");
    const { versions, code, order } = review;
    expect({ versions, code, order }).toEqual({ versions: [], code: [], order: [] });
    // The reading itself stands in the map layer of readings.
    expect(review.numbers).toContainEqual({
      file: "readings.geojson",
      path: "features[1].properties.q_130cm_12000Hz_hcp",
      was: 1979.8,
      is: 2979.8,
    });
  });

  it("names the cell in which an option was altered, and the outputs that follow", async () => {
    const { exitCode, err, review } = await reviewed("option", (at) =>
      altered(join(at, "out/appendix.ipynb"), "evidence: 6", "evidence: 60"),
    );
    expect(exitCode).toBe(1);
    expect(review.code.map((one: { name: string }) => one.name)).toEqual(["drift"]);
    expect(err).toContain("banquette: the code of cell drift is another: sha-256 ");
    const { inputs, versions, order, numbers } = review;
    expect({ inputs, versions, order, numbers }).toEqual({
      ...{ inputs: [], versions: [], order: [], numbers: [] },
    });
    // Of this notebook only the cell itself shows the option, and the page its code.
    expect(new Set(review.cells.map((one: { cell: string }) => one.cell))).toEqual(
      new Set(["drift"]),
    );
    expect(review.files.map((one: { name: string }) => one.name)).toEqual(["appendix.html"]);
  });

  it("names output, order, version, figure and number that were altered by hand, each alone", async () => {
    const { exitCode, review } = await reviewed("by-hand", async (at) => {
      await alteredNotebook(at, ({ cells }) => {
        const of = (id: string) => cells.find((cell) => cell.id === id)!;
        of("survey").outputs![0]!.data!["text/plain"] = ["1000"];
        [of("drift").execution_count, of("chain").execution_count] = [6, 5];
        const spec = of("chain").outputs![1]!.data!["application/vnd.vegalite.v5+json"];
        Object.assign(spec as object, { description: "another" });
      });
      await altered(join(at, "out/provenance.json"), /"proj4": "[^"]*"/, '"proj4": "1.0.0"');
      await altered(join(at, "out/findings.json"), /"length_m": [\d.]+/, '"length_m": 999');
    });
    expect(exitCode).toBe(1);
    expect(review).toMatchObject({ inputs: [], code: [], files: [], failed: null });
    expect(review.cells).toEqual([
      {
        cell: "survey",
        output: 1,
        form: "text/plain",
        was: "1000",
        is: expect.stringMatching(/^99\.999/),
      },
    ]);
    expect(review.order).toEqual([
      expect.stringMatching(/^cell \d+ \(\[5\]\) ran before cell \d+/),
    ]);
    expect(review.versions).toEqual([
      { name: "proj4", was: "1.0.0", is: expect.stringMatching(/^2\./) },
    ]);
    expect(review.figures).toEqual([
      expect.objectContaining({
        file: "appendix.ipynb",
        figure: expect.stringMatching(/^blocks/),
        values: [{ path: "description", was: "another", is: null }],
        count: 1,
      }),
    ]);
    expect(review.numbers).toEqual([
      { file: "findings.json", path: "survey.length_m", was: 999, is: 100 },
    ]);
  });

  it("says that a survey which check refuses cannot be executed again, beside its altered input", async () => {
    const { exitCode, err, review } = await reviewed("refused", (at) =>
      altered(join(at, "bank/walk-1-2031-10.csv"), ",1979.8,", ",many,"),
    );
    expect(exitCode).toBe(1);
    expect(review.failed).toMatch(
      /^it cannot be executed again: walk-1-2031-10\.csv row 3, field q_130cm/,
    );
    expect(review.inputs).toHaveLength(1);
    expect(err).toContain("banquette: it cannot be executed again: walk-1");
  });

  it("refuses a folder that is no appendix, a survey that is nowhere, and a second CSV without columns", async () => {
    const none = await banquetteIn(folder, ["review", "bank"]);
    expect(none).toMatchObject({ exitCode: 1 });
    expect(none.err).toMatch(
      /^banquette: bank: is no appendix, appendix\.ipynb and .* not there\n$/,
    );
    const alone = join(folder, "alone");
    await mkdir(alone);
    await copied(folder, alone);
    rmSync(join(alone, "bank"), { recursive: true });
    const lost = await banquetteIn(alone, ["review", "out"]);
    expect(lost.exitCode).toBe(1);
    expect(lost.err).toContain('the survey folder "bank" is not beside the appendix nor here');
    await writeFile(join(alone, "second.csv"), "from,to\n0,1\n");
    const second = await banquetteIn(alone, ["review", "out", "--blocks", "second.csv"]);
    expect(second.err).toContain("second.csv: must have the columns from_m, to_m, class");
    const share = await banquetteIn(alone, ["review", "out", "--tolerance", "2"]);
    expect(share.exitCode).toBe(2);
  });
});
