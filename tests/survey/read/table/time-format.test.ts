import { describe, expect, it } from "vitest";
import { cellReader } from "../../../../lib/survey/read/table/cell.js";

const NINE_S = Date.UTC(2031, 9, 14, 9, 0, 5) / 1000;

describe("a field's own form of cells", () => {
  it.each([
    ["%d/%m/%Y %H:%M:%S", "14/10/2031 09:00:05"],
    ["%m/%d/%y %I:%M:%S %p", "10/14/31 9:00:05 AM"],
    ["%d. %B %Y, %H.%M:%S", "14. Oktober 2031, 09.00:05"],
    ["%Y%m%dT%H%M%S", "20311014T090005"],
  ])("reads times in the pattern %s, in the zone that it gives", (format, cell) => {
    const field = { name: "time", type: "datetime", format };
    expect(cellReader("datetime", { ...field, timezone: "UTC" })(cell)).toBe(NINE_S);
    const summer = cellReader("datetime", { ...field, timezone: "Europe/Amsterdam" })(cell);
    expect(summer).toBe(NINE_S - 7200);
    expect(cellReader("datetime", field)(cell)).toMatchObject({ code: "time-without-offset" });
  });

  it("takes the offset of the cell before the field's zone, and decimals of a second", () => {
    const format = "%d/%m/%Y %H:%M:%S.%f %z";
    const read = cellReader("datetime", { name: "time", format, timezone: "UTC" });
    expect(read("14/10/2031 11:00:05.25 +02:00")).toBe(NINE_S + 0.25);
  });

  it.each([
    ["31/02/2031 09:00", "not-a-time", "a time in the format %d/%m/%Y %H:%M"],
    ["14/10/2031 25:00", "not-a-time", "a time in the format %d/%m/%Y %H:%M"],
    ["2031-10-14 09:00", "not-a-time", "a time in the format %d/%m/%Y %H:%M"],
    ["26/10/2031 02:30", "not-a-time", "a local time that the clocks do not show twice"],
    ["30/03/2031 02:30", "not-a-time", "a local time that the clocks do not skip"],
  ])("refuses the time %s", (cell, code, rule) => {
    const field = { name: "time", format: "%d/%m/%Y %H:%M", timezone: "Europe/Amsterdam" };
    expect(cellReader("datetime", field)(cell)).toMatchObject({ code, rule });
  });

  it.each(["%d/%d/%Y", "%Q", "%d %b %B %Y"])("refuses the pattern %s", (format) => {
    const read = cellReader("datetime", { name: "time", format });
    expect(read("14/10/2031")).toMatchObject({ code: "field-format" });
  });

  it("reads dates in a pattern, and numbers with groups, a comma and words around them", () => {
    const date = cellReader("date", { name: "date", format: "%d.%m.%Y" });
    expect(date("14.10.2031")).toBe("2031-10-14");
    expect(date("10.14.2031")).toMatchObject({ code: "not-a-date" });
    const form = { name: "q", groupChar: ".", decimalChar: "," };
    expect(cellReader("number", form)("1.234,5")).toBe(1234.5);
    const read = cellReader("number", { ...form, bareNumber: false });
    expect(["1.234,5 ppm", "~ -3,5%", "€12"].map(read)).toEqual([1234.5, -3.5, 12]);
    expect(cellReader("number", form)("12 ppm")).toMatchObject({ code: "not-a-number" });
  });
});
