import { describe, expect, it } from "vitest";
import { median } from "../../lib/numerics/statistics/robust.js";
import { expectClose } from "../support/expect-close.js";
import { type WalkSketch, walkedSurvey } from "../survey/support/walked-survey.js";
import { back, open, there } from "./support/opened.js";

describe("passes that lie apart", () => {
  const sketch: WalkSketch = { passes: [there, back], lag_s: 1.5, seed: 13 };

  it("are co-registered on opening, said and tabled; the option turns it off", async () => {
    const { tables, cautions, value, basis } = await open(sketch);
    expect(tables.map(({ id }) => id)).toEqual(["positions", "passes-together"]);
    const [row] = tables.find(({ id }) => id === "passes-together")!.rows;
    expect(row).toMatchObject({ one: "walk-1.csv", other: "walk-2.csv" });
    // Each walk's readings are late by 1.5 s at 1.2 m/s: the second lies 3.6 m behind the first.
    expectClose(row!.shift_m as number, -3.6, { absolute: 0.3 });
    expect(row!.fate).toBe("brought to their middle");
    expect(cautions.some(({ text }) => text.includes("brought to their middle"))).toBe(true);
    expect(basis.some(({ statement }) => statement.includes("brought to their middle"))).toBe(true);
    const { lagged_m } = walkedSurvey(sketch);
    for (const [p, { chainage_m }] of value.campaigns[0]!.passes.entries()) {
      const off = lagged_m[p]!.slice(5, -5).map((x, i) => Math.abs(chainage_m[i + 5]! - x));
      expect(median(off)).toBeLessThan(0.4);
    }
    const left = await open(sketch, { passShift_m: "ignore" });
    expect(left.tables.map(({ id }) => id)).toEqual(["positions"]);
  });

  it("may be given by file, of which the survey must have one", async () => {
    const given = await open(sketch, { passShift_m: { "walk-2.csv": -3.6 } });
    expect(given.used.passShift_m).toEqual({ "walk-2.csv": -3.6 });
    expect(given.cautions.some(({ text }) => text.includes("as given, by up to 3.6 m"))).toBe(true);
    await expect(open(sketch, { passShift_m: { "walk-3.csv": 1 } })).rejects.toThrow(
      "openSurvey: options.passShift_m must be metres by file, of walk-1.csv, walk-2.csv, got " +
        '"walk-3.csv"',
    );
    await expect(open(sketch, { passShift_m: { "walk-2.csv": 40 } })).rejects.toThrow(
      "options.passShift_m must be one of correct, check, ignore, or metres from -20 to 20 by file",
    );
  });
});
