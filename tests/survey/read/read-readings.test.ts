import { describe, expect, it } from "vitest";
import { openFolder, textsOf } from "../../place/support/opened.js";
import { walkedSurvey } from "../support/walked-survey.js";

describe("a file of readings", () => {
  it("with epochs missing, times shared and times blank says how many", async () => {
    const sketch = walkedSurvey({ seed: 4 });
    const lines = sketch.files["walk-1.csv"]!;
    lines[10] = lines[10]!.replace(/^[^,]*/, "");
    lines[21] = lines[21]!.replace(/^[^,]*/, lines[20]!.split(",")[0]!);
    lines.splice(400, 12);
    lines.splice(300, 5);
    const { cautions, accounting } = await openFolder(sketch);
    expect(accounting!.readings).toBe(483);
    expect(textsOf(cautions)).toEqual(
      expect.arrayContaining([
        "walk-1.csv: 1 reading without a time; placed in time by order of rows.",
        "walk-1.csv: 1 reading with the time of the row before.",
        "walk-1.csv: 2 gaps in time of up to 13 s, where readings are missing.",
      ]),
    );
  });
});
