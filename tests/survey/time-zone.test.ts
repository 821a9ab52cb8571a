import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { zoneReader } from "../../lib/survey/time-zone.js";

const utc = (...parts: [number, number, number, number, number]) => Date.UTC(...parts) / 1000;

describe("local times of a zone", () => {
  it("follow summer time, which skips an hour and shows another twice", () => {
    const read = zoneReader("Europe/Amsterdam")!;
    expect(read(utc(2031, 0, 14, 9, 0))).toBe(utc(2031, 0, 14, 8, 0));
    expect(read(utc(2031, 6, 14, 9, 0))).toBe(utc(2031, 6, 14, 7, 0));
    expect(read(utc(2031, 2, 30, 2, 30))).toBe("skipped");
    expect(read(utc(2031, 9, 26, 2, 30))).toEqual({
      earlier_s: utc(2031, 9, 26, 0, 30),
      later_s: utc(2031, 9, 26, 1, 30),
    });
  });

  it.each([
    ["UTC", 0],
    ["+01:00", 1],
    ["-3", -3],
    ["GMT+5:30", 5.5],
  ])("of %s are a fixed step from UTC", (zone, hours) => {
    expect(zoneReader(zone)!(utc(2031, 6, 14, 9, 0))).toBe(utc(2031, 6, 14, 9, 0) - 3600 * hours);
  });

  it.each(["", "Europe/Sedgeholm", "summer", "+1:2:3"])("are none in the zone %j", (zone) => {
    expect(zoneReader(zone)).toBeNull();
  });

  it("come back from every time that a clock of the zone shows", () => {
    const zones = ["Europe/Amsterdam", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu"];
    const time = fc.integer({ min: utc(2000, 0, 1, 0, 0), max: utc(2060, 0, 1, 0, 0) });
    fc.assert(
      fc.property(fc.constantFrom(...zones), time, (zone, time_s) => {
        const shown = new Date(1000 * time_s).toLocaleString("sv-SE", { timeZone: zone });
        const found = zoneReader(zone)!(Date.parse(`${shown.replace(" ", "T")}Z`) / 1000);
        const times = typeof found === "object" ? [found.earlier_s, found.later_s] : [found];
        expect(times).toContain(time_s);
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});
