import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openSurvey } from "../../lib/place/open-survey.js";
import { closes } from "../../lib/step/account.js";
import { StepError } from "../../lib/step/step-error.js";
import { positionAt } from "../../lib/survey/bank/position.js";
import { expectClose } from "../support/expect-close.js";
import { openedDemo } from "../support/opened-demo.js";
import {
  inFolder,
  minimalSurvey,
  resourceOf,
  type SketchedFolder,
  setCell,
  wholeSurvey,
} from "../survey/support/survey-folder.js";

const open = (sketch: SketchedFolder, options = {}) =>
  inFolder(sketch, (folder) => openSurvey(folder, options));
const unbridged = { bridgeUpTo_m: 0 };

describe("openSurvey", () => {
  it("opens the minimal folder and says what is absent", async () => {
    const { value, cautions, accounting } = await open(minimalSurvey(), unbridged);
    expect(value.campaigns.map(({ label }) => label)).toEqual(["2031-10"]);
    expect(value.centreline.epsg).toBe(32631);
    expect(accounting).toEqual({
      readings: 6,
      kept: 4,
      corrected: 0,
      setAside: [
        { cause: "no position", readings: 1 },
        { cause: "no value", readings: 1 },
      ],
    });
    expect(cautions.map(({ text }) => text)).toEqual([
      "survey.crs is not given; EPSG:32631, the UTM zone of the centreline, is used.",
      "2031-10, walk.csv: 1 reading without a position, of 6, lies in 1 gap that is not bridged " +
        "(limits 0 m and 30 s) and is set aside.",
      "1 reading set aside: no position.",
      "1 reading set aside: no value.",
      "No base checks: instrument drift cannot be told from the ground (2031-10).",
      "No in-phase channels: metal shows less clearly (2031-10).",
      "No soil temperatures: campaigns cannot be brought to 25 °C (2031-10).",
      "No field notes: metal objects are found by reading alone.",
      "No water levels: the head across the bank is not known.",
      "No resistivity lines: no second method to compare.",
      "No boreholes: classes of ground cannot be named.",
      "No incidents: past seepage cannot speak as evidence.",
      "No second campaign: changes cannot be looked for.",
    ]);
  });

  it("places readings by chainage and sets gaps aside with their cause", async () => {
    const { value } = await open(minimalSurvey(), unbridged);
    const [campaign] = value.campaigns;
    const pass = campaign!.passes[0]!;
    // 0.0001 degree of longitude at 54 degrees north is 6.557 m on the ellipsoid (Snyder 1987,
    // 4-21).
    const degree_m = 65_578;
    for (const [i, longitude] of [3.0001, 3.0003, 3.0005].entries()) {
      expectClose(pass.chainage_m[i]!, (longitude - 3) * degree_m, { absolute: 0.01 });
    }
    expect(pass.chainage_m[3]).toBeNaN();
    expectClose(pass.offset_m[2]!, 1.113, { absolute: 0.01 });
    expect(pass.setAside.map((mask) => [...mask])).toEqual([
      [0, 0, 0, 1, 0, 2],
      [0, 0, 0, 1, 2, 2],
    ]);
    expect(campaign!.causes.map(({ kind }) => kind)).toEqual(["no position", "no value"]);
    expect([...pass.row]).toEqual([2, 3, 4, 5, 6, 7]);
    expect([...pass.height_m]).toEqual(Array(6).fill(0.9));
  });

  it("reads every role into its place", async () => {
    const { value } = await open(wholeSurvey());
    const campaign = value.campaigns[0]!;
    expect(campaign.baseChecks[0]?.values).toEqual({ c_hcp: 30.1, c_vcp: 25.2 });
    expect(campaign.baseChecks[1]?.values).toEqual({ c_hcp: 30.4 });
    expect(value.fieldNotes[0]).toMatchObject({ from_m: 40, to_m: 42, campaign: null });
    expect(value.fieldNotes[1]).toMatchObject({ kind: "remark", campaign: "2031-10" });
    expectClose(value.fieldNotes[1]!.from_m, 72.13, { absolute: 0.05 });
    expectClose(value.fieldNotes[1]!.offset_m!, 11.13, { absolute: 0.05 });
    expect(campaign.notes).toHaveLength(2);
    // The temperature of June is no neighbour of October's readings.
    expect(value.soilTemperature).toHaveLength(3);
    expect(campaign.soilTemperature).toHaveLength(2);
    expect(value.waterLevels[1]).toMatchObject({ point: "P1", chainage_m: 60 });
    expect(value.resistivityLines[0]).toMatchObject({ line: "R1", runs: "along", chainage_m: 20 });
    expect(value.resistivityLines[0]?.electrodes).toHaveLength(4);
    expect(value.resistivityLines[0]?.readings[1]).toMatchObject({ row: 3, b: 0, repeat: null });
    expect(value.boreholes.map(({ strata }) => strata.length)).toEqual([2, 1]);
    expect(value.boreholes[1]?.laboratory).toEqual([
      {
        depth_m: 2,
        fines_pct: null,
        water_content_pct: null,
        hydraulic_conductivity_m_per_s: null,
        resistivity_ohm_m: 40,
      },
    ]);
    expect(value.incidents).toMatchObject([{ date: "2027-02-19", kind: "sand boil" }]);
  });

  it("takes easting and northing as they are", async () => {
    const survey = wholeSurvey();
    const { value: before } = await open(survey);
    const resource = resourceOf(survey, "readings");
    resource.schema.fields[1].name = "easting";
    resource.schema.fields[2].name = "northing";
    const lines = survey.files["walk.csv"]!;
    lines[0] = lines[0]!.replace("longitude,latitude", "easting,northing");
    const { easting_m, northing_m } = positionAt(before.centreline, 50, 2);
    for (let row = 2; row <= 7; row++) {
      setCell(survey, { file: "walk.csv", row, field: "easting" }, String(easting_m + row));
      setCell(survey, { file: "walk.csv", row, field: "northing" }, String(northing_m));
    }
    const { value } = await open(survey);
    const pass = value.campaigns[0]!.passes[0]!;
    expect(pass.easting_m[0]).toBe(easting_m + 2);
    expectClose(pass.chainage_m[0]!, 52, { absolute: 0.01 });
  });

  it("takes another system with its definition, and chainages stay ground metres", async () => {
    const survey = minimalSurvey();
    const { value: utm } = await open(survey);
    const crsDefinition = "+proj=tmerc +lat_0=53 +lon_0=3 +k=1 +x_0=10000 +y_0=0 +datum=WGS84";
    survey.package.survey = { crs: 99001, crsDefinition };
    const { value } = await open(survey);
    expect(value.centreline).toMatchObject({ epsg: 99001, projection: crsDefinition });
    expectClose(value.length_m, utm.length_m, { absolute: 1e-3 });
  });

  it("starts the chainage where the centreline says", async () => {
    const survey = minimalSurvey();
    const geometry = JSON.parse(survey.files["centreline.geojson"]!.join(""));
    const feature = { type: "Feature", properties: { chainageStart_m: 1200 }, geometry };
    survey.files["centreline.geojson"] = [JSON.stringify(feature)];
    const { value } = await open(survey);
    expect(value.centreline.chainage_m[0]).toBe(1200);
    expectClose(value.campaigns[0]!.passes[0]!.chainage_m[0]!, 1206.56, { absolute: 0.05 });
  });

  it("sorts campaigns by their first reading, whatever their labels and order", async () => {
    const survey = minimalSurvey();
    const earlier = { ...resourceOf(survey, "readings"), name: "earlier", path: "earlier.csv" };
    survey.package.resources.push({ ...earlier, campaign: "zero" });
    survey.files["earlier.csv"] = survey.files["walk.csv"]!.map((line) =>
      line.replace("2031", "2030").replace("3.000", "3.0010"),
    );
    const { value } = await open(survey);
    expect(value.campaigns.map(({ label }) => label)).toEqual(["zero", "2031-10"]);
  });

  it("reads by dialect and schema: separators, decimal commas, marks, no schema", async () => {
    const survey = minimalSurvey();
    const resource = resourceOf(survey, "readings");
    resource.dialect = { delimiter: ";" };
    resource.schema.missingValues = ["", "-9999"];
    for (const field of resource.schema.fields.slice(1)) field.decimalChar = ",";
    survey.files["walk.csv"] = [
      "\ufefftime;longitude;latitude;c_hcp;c_vcp\r",
      "\r",
      "2031-10-14T09:00:00Z;3,0001;54;21,5;-9999\r",
      '2031-10-14T09:00:10Z;3,0003;54;"22,5";1,8e1\r',
    ];
    const { value } = await open(survey);
    const pass = value.campaigns[0]!.passes[0]!;
    expect(pass.values.map((column) => [...column])).toEqual([
      [21.5, 22.5],
      [Number.NaN, 18],
    ]);
    expect([...pass.row]).toEqual([3, 4]);
    delete resource.schema;
    delete resource.dialect;
    survey.files["walk.csv"] = minimalSurvey().files["walk.csv"]!;
    const { cautions } = await open(survey);
    expect(cautions.map(({ text }) => text)).toContain(
      "walk.csv has no schema; its columns are read as the role readings asks.",
    );
  });

  it("records every file with its hash", async () => {
    const survey = minimalSurvey();
    const { value } = await open(survey);
    expect(value.inputs.map(({ path, rows }) => [path, rows])).toEqual([
      ["datapackage.json", null],
      ["centreline.geojson", null],
      ["walk.csv", 6],
    ]);
    const text = survey.files["walk.csv"]!.join("\n");
    expect(value.inputs[2]?.sha256).toBe(createHash("sha256").update(text).digest("hex"));
    expect(value.inputs[2]?.bytes).toBe(Buffer.byteLength(text));
  });

  it("draws a map and lists the passes", async () => {
    const { figures, tables } = await open(wholeSurvey(), unbridged);
    expect(figures[0]?.title).toBe("6 readings in 1 pass cover 50 of 310 m of Sedgeholm Bank");
    expect(tables[0]?.rows).toMatchObject([{ campaign: "2031-10", readings: 6, aside: 2 }]);
  });

  it("throws every fault at once, with its place", async () => {
    const survey = wholeSurvey();
    setCell(survey, { file: "walk.csv", row: 2, field: "c_hcp" }, "x");
    setCell(survey, { file: "strata.csv", row: 4, field: "top_m" }, "8");
    const error = await open(survey).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(StepError);
    expect((error as StepError).message.split("\n")).toEqual([
      'openSurvey: walk.csv row 2, field c_hcp must be a number, got "x"',
      "openSurvey: strata.csv row 4, field top_m must be above base_m (top_m < 8), got 8",
    ]);
    expect((error as StepError).faults[0]).toMatchObject({ file: "walk.csv", row: 2 });
  });

  it("refuses a distance that is none", async () => {
    const options = { farFromCentreline_m: Number.NaN };
    await expect(openSurvey("somewhere", options)).rejects.toThrow(
      "openSurvey: options.farFromCentreline_m must be a number above 0 m, got NaN",
    );
  });

  it("changes nothing in the folder", async () => {
    await inFolder(wholeSurvey(), async (folder) => {
      const contents = () =>
        readdirSync(folder).map((file) => [file, readFileSync(join(folder, file), "utf8")]);
      const before = contents();
      await openSurvey(folder);
      expect(contents()).toEqual(before);
    });
  });
});

describe("the demo survey", () => {
  it("opens without a fault, with every reading accounted for", async () => {
    const { value, accounting } = await openedDemo();
    const rows = value.inputs.filter(({ path }) => path.startsWith("readings-"));
    expect(accounting!.readings).toBe(rows.reduce((sum, file) => sum + file.rows!, 0));
    expect(closes(accounting!)).toBe(true);
    expectClose(value.length_m, 2400, { absolute: 0.1 });
  });
});
