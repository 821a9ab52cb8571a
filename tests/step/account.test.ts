import { describe, expect, it } from "vitest";
import { closes, setAsideTotal } from "../../lib/step/account.js";

const accounting = {
  ...{ readings: 10, kept: 5, corrected: 2 },
  setAside: [
    { cause: "noise", readings: 2 },
    { cause: "no value", readings: 1 },
  ],
};

describe("closes and setAsideTotal", () => {
  it("count every reading once", () => {
    expect(setAsideTotal(accounting)).toBe(3);
    expect(closes(accounting)).toBe(true);
    expect(closes({ ...accounting, readings: 11 })).toBe(false);
    expect(closes({ ...accounting, readings: Number.NaN })).toBe(false);
  });
});
