import { describe, expect, it } from "vitest";
import { clockOf } from "../../../lib/place/walk/clock.js";
import { walkedSurvey } from "../../survey/support/walked-survey.js";
import { openFolder } from "../support/opened.js";

describe("clockOf", () => {
  it("spreads readings that share a time until the next one, the first ones up to it", () => {
    const clock = (times: readonly number[]) => [...clockOf(Float64Array.from(times))];
    // A reading every 20 s from 0:40 on, by a clock of whole minutes.
    expect(clock([0, 60, 60, 60, 120, 120, 120, 180, 180])).toEqual([
      40, 60, 80, 100, 120, 140, 160, 180, 200,
    ]);
    // A pause of ten minutes stays one.
    const paused = clock([0, 0, 0, 60, 60, 60, 120, 120, 120, 720, 720, 720, 780]);
    expect(paused.slice(5, 11)).toEqual([100, 120, 140, 160, 720, 740]);
    // A few rows with the time of the row before are not a coarse clock.
    expect(clock([0, 1, 1, 2, 3, 4])).toEqual([0, 1, 1, 2, 3, 4]);
    expect(clock([5, 5, 5])).toEqual([5, 5, 5]);
  });

  it("places a walk by a clock of whole minutes as well as by one of seconds", async () => {
    const off_m = async (cut: (time: string) => string) => {
      const sketch = walkedSurvey({ seed: 6, jitter_m: 0.3 });
      sketch.files["walk-1.csv"] = sketch.files["walk-1.csv"]!.map((line, i) =>
        i === 0 ? line : line.replace(/^[^,]*/, cut),
      );
      const { chainage_m } = (await openFolder(sketch)).value.campaigns[0]!.passes[0]!;
      const errors = [...chainage_m].map((x, i) => Math.abs(x - sketch.truth_m[0]![i]!));
      return Math.max(...errors);
    };
    const whole = await off_m((time) => time.replace(/:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/, ":00$2"));
    expect(whole).toBeLessThan(1.5 * (await off_m((time) => time)));
  });

  it("places readings without a time between those that have one", async () => {
    const sketch = walkedSurvey({ seed: 4, jitter_m: 0.1 });
    const lines = sketch.files["walk-1.csv"]!;
    for (let row = 50; row < 60; row++) lines[row] = lines[row]!.replace(/^[^,]*/, "");
    const { accounting, value } = await openFolder(sketch);
    expect(accounting!.kept).toBe(500);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    for (let i = 49; i < 59; i++) {
      expect(Math.abs(chainage_m[i]! - sketch.truth_m[0]![i]!)).toBeLessThan(0.6);
    }
  });
});
