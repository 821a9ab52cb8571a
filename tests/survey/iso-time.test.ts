import { describe, expect, it } from "vitest";
import { isIsoDate, isoTime, utcText } from "../../lib/survey/iso-time.js";

describe("isoTime", () => {
  it.each([
    ["1970-01-01T00:00:00Z", 0],
    ["1970-01-01T01:00:00+01:00", 0],
    ["1970-01-01T00:00-00:30", 1800],
    ["2000-02-29T12:00:00.25Z", 951_825_600.25],
    ["1970-01-02 00:00:00+0000", 86_400],
  ])("reads %s", (text, time_s) => expect(isoTime(text)).toBe(time_s));

  it.each(["2031-02-29T00:00Z", "2031-13-01T00:00Z", "2031-01-01T24:00Z", "noon", "2031-01-01"])(
    "does not take %s for a time",
    (text) => expect(isoTime(text)).toBe("not-a-time"),
  );

  it("asks for the offset", () => {
    expect(isoTime("2031-10-14T09:00:00")).toBe("time-without-offset");
  });
});

describe("isIsoDate and utcText", () => {
  it("know the calendar", () => {
    expect(["2032-02-29", "2031-02-29", "14.10.2031"].map(isIsoDate)).toEqual([true, false, false]);
    expect(utcText(951_825_600.75)).toBe("2000-02-29T12:00:00Z");
    expect(utcText(Number.NaN)).toBeNull();
  });
});
