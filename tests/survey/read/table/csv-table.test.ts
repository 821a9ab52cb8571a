import { describe, expect, it } from "vitest";
import { CsvTable } from "../../../../lib/survey/read/table/csv-table.js";

const table = new CsvTable(
  { name: "levels", path: "levels.csv", role: "water-levels" },
  Int32Array.of(2, 4),
  [
    {
      ...{ name: "level_m", numbers: Float64Array.of(5.6, Number.NaN), texts: null },
      blanks: Uint8Array.of(0, 1),
    },
    { name: "point", numbers: null, texts: ["river", "P1"], blanks: Uint8Array.of(0, 0) },
  ],
);

describe("CsvTable", () => {
  it("gives its rows with their lines, values and blank cells", () => {
    const [first, second] = table.rows;
    expect([first!.line, second!.line]).toEqual([2, 4]);
    expect([first!.number("level_m"), first!.text("point")]).toEqual([5.6, "river"]);
    expect([second!.number("level_m"), second!.numberOrNull("level_m")]).toEqual([
      Number.NaN,
      null,
    ]);
    expect([first!.isBlank("level_m"), second!.isBlank("level_m")]).toEqual([false, true]);
    expect(second!.place("level_m")).toEqual({ file: "levels.csv", row: 4, field: "level_m" });
  });

  it("has missing values, blank, where there is no such column", () => {
    expect(table.has("chainage_m")).toBe(false);
    expect([...table.numbers("chainage_m")]).toEqual([Number.NaN, Number.NaN]);
    expect(table.texts("text")).toEqual(["", ""]);
    const [row] = table.rows;
    expect([row!.number("text"), row!.text("level_m")]).toEqual([Number.NaN, ""]);
    expect(row!.isBlank("text")).toBe(true);
  });
});
