// The appendix notebook executed on the demo by the built command, twice, as a user would.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { Ajv2020 } from "ajv/dist/2020.js";
import Papa from "papaparse";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseNotebook } from "../../kernels/notebook/read-notebook.js";
import { demoFolder } from "../chain/demo.js";
import { banquette, type Ran, repository } from "./banquette.js";
import { demoAppendix } from "./support/demo-appendix.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-appendix-"));
const again = join(folder, "again");
let first: string;
let runs: readonly Ran[];

beforeAll(async () => {
  const { out, ran } = await demoAppendix();
  first = out;
  runs = [ran, await banquette("appendix", demoFolder, "--out", again)];
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const read = (name: string) => readFileSync(join(first, name), "utf8");
const json = (name: string) => JSON.parse(read(name));

describe("banquette appendix on the demo", () => {
  it("ends well and writes its files, no more", () => {
    expect(runs.map((run) => run.status)).toEqual([0, 0]);
    expect(readdirSync(first).sort()).toEqual([
      "accounting.csv",
      "appendix.html",
      "appendix.ipynb",
      "appendix.pdf",
      "blocks.geojson",
      "changes.geojson",
      "findings.json",
      "proposed_boreholes.geojson",
      "provenance.json",
      "readings.geojson",
      "section_traces.geojson",
      "seepage_zones.geojson",
      "set_aside.geojson",
      "survey.gpkg",
    ]);
  });

  it("gives the same bytes twice, in every file", () => {
    for (const name of readdirSync(first)) {
      const [one, two] = [first, again].map((out) => readFileSync(join(out, name)));
      expect(Buffer.compare(one!, two!), name).toBe(0);
    }
  });

  it("gives findings that the published schema holds valid", () => {
    const schema = JSON.parse(
      readFileSync(join(repository, "lib/handover/findings.schema.json"), "utf8"),
    );
    const isValid = new Ajv2020({ strictTypes: false, allErrors: true }).compile(schema);
    expect(isValid(json("findings.json")), JSON.stringify(isValid.errors)).toBe(true);
  });

  it("accounts for every row of the readings files, once", () => {
    const accounted = Papa.parse<Record<string, string>>(read("accounting.csv"), {
      header: true,
      skipEmptyLines: true,
    }).data;
    const places = new Set(accounted.map((row) => `${row.file}:${row.row}`));
    expect(places.size).toBe(accounted.length);
    const files = readdirSync(demoFolder).filter((name) => name.startsWith("readings-"));
    expect(files).toHaveLength(4);
    for (const file of files) {
      const rows = readFileSync(join(demoFolder, file), "utf8").trimEnd().split("\n").length - 1;
      expect(accounted.filter((row) => row.file === file)).toHaveLength(rows);
    }
    const fates = new Set(accounted.map((row) => row.fate));
    expect([...fates].every((fate) => ["kept", "corrected", "set aside"].includes(fate!))).toBe(
      true,
    );
    for (const row of accounted) expect(row.cause === "").toBe(row.fate !== "set aside");
  });

  it("stores an executed notebook, valid in format 4.5, every figure with an SVG beside it", () => {
    const notebook = parseNotebook(read("appendix.ipynb"), "appendix.ipynb");
    const outputs = notebook.cells.flatMap((cell) =>
      cell.cell_type === "code" ? cell.outputs : [],
    );
    expect(outputs.some((output) => output.output_type === "error")).toBe(false);
    const figures = outputs.filter(
      (output) => "data" in output && "application/vnd.vegalite.v5+json" in output.data,
    );
    expect(figures).toHaveLength(50);
    for (const figure of figures) {
      if (!("data" in figure)) continue;
      expect(String(figure.data["image/svg+xml"])).toMatch(/^<svg[\s\S]*<\/svg>\s*$/);
    }
    const counts = notebook.cells.flatMap((cell) =>
      cell.cell_type === "code" ? [cell.execution_count] : [],
    );
    expect(counts).toEqual(counts.map((_, i) => i + 1));
  });

  it("shows the ground by depth: section, slices, residuals, the customary view, a sounding, a plan", () => {
    const packed = read("appendix.html").matchAll(/id="figure-\d+-data">([^<]*)<\/script>/g);
    const ids = [...packed].map(([, data]) => {
      const spec = JSON.parse(inflateSync(Buffer.from(data!, "base64")).toString("utf8"));
      return spec.usermeta.banquette.id;
    });
    expect(ids).toHaveLength(50);
    const ofCampaigns = ["2031-10", "2032-03"].flatMap((campaign) =>
      ["section", "slices", "residuals"].map((name) => `depth-${name}-${campaign}`),
    );
    const ofOne = ["nominal-2031-10", "nominal-sensitivity-2031-10", "depth-sounding-2031-10-1848"];
    const plan = ["plan-size", "plan-height", "plan-parts"];
    expect(ids).toEqual(expect.arrayContaining([...ofCampaigns, ...ofOne, ...plan]));
  });

  it("records inputs, notebook, cells, decisions, seeds and versions", () => {
    const provenance = json("provenance.json");
    expect(provenance.inputs.length).toBeGreaterThan(10);
    for (const input of provenance.inputs) expect(input.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(provenance.seeds).toMatchObject({ scoreSeepage: expect.any(Number) });
    expect(provenance).toHaveProperty("notebook.sha256");
    expect(provenance).toHaveProperty("versions.banquette");
  });

  it("tells nobody where on the machine it was made", () => {
    for (const name of readdirSync(first)) {
      expect(read(name).includes(repository), name).toBe(false);
      expect(read(name).includes(first), name).toBe(false);
    }
  });

  it("shows progress cell by cell", () => {
    expect(runs[0]!.stderr).toMatch(/cell 1 of \d+/);
    expect(runs[0]!.stderr).not.toMatch(/^banquette:/m);
  });
});
