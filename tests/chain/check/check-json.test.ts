// The check for other programs, against its published schema, by a validator that is not ours.
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { checkJson } from "../../../lib/chain/check/check-json.js";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import {
  inFolder,
  minimalSurvey,
  type SketchedFolder,
} from "../../survey/support/survey-folder.js";

const schema = JSON.parse(
  readFileSync(new URL("../../../lib/chain/check/check.schema.json", import.meta.url), "utf8"),
);
const ajv = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true });
const isValid = ajv.compile(schema);

const checked = (sketch: SketchedFolder) =>
  inFolder(sketch, async (folder) =>
    JSON.parse(JSON.stringify(checkJson(await checkSurvey(folder), { name: "small" }))),
  );

describe("checkJson", () => {
  it("tells a sound survey as the schema says", async () => {
    const json = await checked(minimalSurvey());
    isValid(json);
    expect(isValid.errors).toBeNull();
    expect(json).toMatchObject({ format: 1, survey: "small", ok: true, faultCount: 0, faults: [] });
    expect(json.steps.length).toBeGreaterThan(5);
  });

  it("tells each fault with its place, and counts those not listed", async () => {
    const sketch = minimalSurvey();
    const [header = "", row = ""] = sketch.files["walk.csv"] ?? [];
    const spoiled = row.replace(/,[^,]*$/, ",much");
    sketch.files["walk.csv"] = [header, ...Array<string>(30).fill(spoiled)];
    const json = await checked(sketch);
    isValid(json);
    expect(isValid.errors).toBeNull();
    expect(json.ok).toBe(false);
    expect(json.faultCount).toBeGreaterThanOrEqual(30);
    const field = header.split(",").at(-1);
    expect(json.faults).toContainEqual(
      expect.objectContaining({ file: "walk.csv", row: 2, field, value: '"much"' }),
    );
  });

  it("is refused by the schema where a field is missing", async () => {
    const { faultCount: _, ...rest } = await checked(minimalSurvey());
    expect(isValid(rest)).toBe(false);
  });
});
