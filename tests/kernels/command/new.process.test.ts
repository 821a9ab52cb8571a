import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readNotebook } from "../../../kernels/notebook/read-notebook.js";
import { ROLES } from "../../../lib/survey/read/package/package-schema.js";
import { ROLE_FIELDS } from "../../../lib/survey/read/package/roles.js";
import { repository, withFolder } from "../support/cells.js";
import { banquetteIn } from "./banquette.js";
import { fillIn, linesOf } from "./filled-in.js";

const template = join(repository, "notebooks/new-survey");

interface Described {
  readonly name: string;
  readonly description: string;
}

interface Resource extends Described {
  readonly role: keyof typeof ROLE_FIELDS | "centreline";
  readonly path: string;
  readonly schema?: { readonly fields: readonly Described[] };
}

async function templateResources(): Promise<readonly Resource[]> {
  return JSON.parse(await readFile(join(template, "datapackage.json"), "utf8")).resources;
}

describe("the survey folder to fill in", () => {
  it("has a resource of every role, described, with every column of the role", async () => {
    const resources = await templateResources();
    expect(resources.map(({ role }) => role)).toEqual(ROLES);
    for (const { role, description, schema } of resources) {
      expect(description.length).toBeGreaterThan(20);
      if (role === "centreline") continue;
      const names = schema?.fields.map(({ name }) => name) ?? [];
      const own = ROLE_FIELDS[role].map(({ name }) => name);
      // Easting and northing take the place of longitude and latitude; one pair is enough.
      const wanted = own.filter((name) => name !== "easting" && name !== "northing");
      const channels = role === "readings" || role === "base-checks" ? ["q_1", "i_1"] : [];
      expect(names, role).toEqual([...wanted, ...channels]);
      for (const field of schema?.fields ?? [])
        expect(field.description, field.name).toMatch(/\.$/);
    }
  });

  it("has CSV files of one row, the header that their schemas state", async () => {
    for (const { path, schema } of await templateResources()) {
      if (schema === undefined) continue;
      const header = schema.fields.map(({ name }) => name).join(",");
      expect(await readFile(join(template, path), "utf8"), path).toBe(`${header}\n`);
    }
  });
});

const unfilled = [
  "datapackage.json, field title",
  ...[
    "embankment",
    "waterway",
    "crestWidth_m",
    "crestElevation_m",
    "foundationElevation_m",
    "watersideSlope",
    "landsideSlope",
    "waterside",
    "designWaterLevel_m",
  ].map((name) => `datapackage.json, field survey.${name}`),
  "datapackage.json, field resources[1].instrument.height_m",
  ...[0, 1].flatMap((at) =>
    ["frequency_Hz", "separation_m", "orientation"].map(
      (name) => `datapackage.json, field resources[1].instrument.channels[${at}].${name}`,
    ),
  ),
  "datapackage.json, field resources[1].campaign",
  "datapackage.json, field resources[2].campaign",
  "centreline.geojson",
  "readings-1.csv",
];

const SHOWN = [
  "survey",
  "drift",
  "interference",
  "depth",
  "blocks",
  "campaigns",
  "lines",
  "sections",
  "seepage",
];

describe("banquette new", () => {
  it("writes a folder of which check names exactly what is still to fill in", async () => {
    await withFolder(async (folder) => {
      const { exitCode, out, err } = await banquetteIn(folder, ["new", "wend-bank"]);
      expect({ exitCode, err }).toEqual({ exitCode: 0, err: "" });
      expect(out).toContain('"banquette check wend-bank"');
      const files = await readdir(template);
      const made = await readdir(join(folder, "wend-bank"));
      expect(made.sort()).toEqual([...files, "interpretation.ipynb"].sort());
      const check = await banquetteIn(folder, ["check", "wend-bank"]);
      expect(check.exitCode).toBe(1);
      const faults = check.err.trimEnd().split("\n");
      const places = faults.map((line) => /^banquette: (.*?): must be /.exec(line)?.[1]);
      expect(places).toEqual(unfilled);
      for (const line of faults.slice(0, -2)) expect(line).toMatch(/still to fill in\)$/);
      expect(faults.slice(-2)).toEqual([
        "banquette: centreline.geojson: must be at least two vertices long, got 0 vertices",
        "banquette: readings-1.csv: must be one reading or more, got no rows",
      ]);
    });
  });

  it("holds a notebook that runs on the folder once that is filled in", async () => {
    await withFolder(async (folder) => {
      await banquetteIn(folder, ["new", "bank"]);
      await fillIn(join(folder, "bank"));
      const check = await banquetteIn(folder, ["check", "bank"]);
      expect({ exitCode: check.exitCode, err: check.err }).toEqual({ exitCode: 0, err: "" });
      expect(check.out).toContain("no boreholes; classes cannot be named");
      const words = ["run", "bank/interpretation.ipynb", "--out", "executed.ipynb"];
      const run = await banquetteIn(folder, words);
      expect(run.exitCode, run.err).toBe(0);
      const { cells } = await readNotebook(join(folder, "executed.ipynb"));
      const shown = cells.filter((cell) => cell.cell_type === "code" && cell.outputs.length > 0);
      // Steps and decisions show themselves, but for the campaigns' cell: there is only one.
      expect(shown.map(({ id }) => id.replace(/-\d$/, ""))).toEqual([
        ...SHOWN.flatMap((name) =>
          ["survey", "campaigns", "lines"].includes(name) ? [name] : [name, name],
        ),
        ...["boreholes", "boreholes", "boreholes", "boreholes"],
        ...["findings", "findings", "findings"],
      ]);
    });
  }, 500_000);

  it("assembles the notebook from the steps asked for and those that they work on", async () => {
    await withFolder(async (folder) => {
      const words = ["new", "bank", "--steps", "depth, survey,coil-response"];
      const { out } = await banquetteIn(folder, words);
      expect(out).toContain(
        "interpretation.ipynb holds survey, drift, interference, depth, coil-response " +
          "(drift, interference added: the others work on it).",
      );
      const { cells } = await readNotebook(join(folder, "bank/interpretation.ipynb"));
      const steps = cells.slice(3).map(({ id }) => id.replace(/-\d$/, ""));
      expect([...new Set(steps)]).toEqual([
        "survey",
        "drift",
        "interference",
        "depth",
        "coil-response",
      ]);
      expect(cells[1]?.source).toMatch(
        /^\/\/ .*\nlet surveyFolder = "\.";\nlet spacing_m = 2;.*\nlet fill_ohm_m = 25;/,
      );
      const names = /\{([^}]*)\}/.exec(cells[2]?.source ?? "")?.[1]?.match(/\w+/g);
      expect(names).toEqual([
        "coilResponse",
        "correctDrift",
        "decide",
        "estimateDepthSlices",
        "maskInterference",
        "openSurvey",
        "skinDepth",
      ]);
      expect(await linesOf(join(folder, "bank/readings-1.csv"))).toHaveLength(2);
    });
  });

  it("refuses a folder that holds something, and a file, and leaves them as they are", async () => {
    await withFolder(async (folder) => {
      await mkdir(join(folder, "full"));
      for (const name of ["full/a", "full/b", "full/c", "full/d", "file"]) {
        await writeFile(join(folder, name), "");
      }
      await mkdir(join(folder, "empty"));
      const full = await banquetteIn(folder, ["new", "full"]);
      expect({ exitCode: full.exitCode, err: full.err }).toEqual({
        exitCode: 1,
        err: "banquette: full: must be an empty folder or not there yet, holds a, b, c, …\n",
      });
      const file = await banquetteIn(folder, ["new", "file"]);
      expect(file.exitCode).toBe(1);
      expect(file.err).toContain("file: must be an empty folder or not there yet (ENOTDIR)");
      expect((await banquetteIn(folder, ["new", "empty"])).exitCode).toBe(0);
      expect((await readdir(folder)).sort()).toEqual(["empty", "file", "full"]);
      expect(await readdir(join(folder, "full"))).toHaveLength(4);
    });
  });

  it("names what it does not know, and lists the catalogue", async () => {
    await withFolder(async (folder) => {
      const { exitCode, err } = await banquetteIn(folder, ["new", "bank", "--steps", "tea,survey"]);
      expect(exitCode).toBe(2);
      expect(err).toMatch(/^banquette: --steps: must be of survey, drift, .*, got "tea"\n$/);
      expect((await banquetteIn(folder, ["new"])).exitCode).toBe(2);
      const list = await banquetteIn(folder, ["new", "--cells"]);
      expect(list.exitCode).toBe(0);
      expect(list.out).toMatch(/^survey +the folder is read and checked/);
      expect(await readdir(folder)).toEqual([]);
    });
  });
});
