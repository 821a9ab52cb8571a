import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  DATE_ORDERS,
  type DateOrder,
  dateParts,
  dayNumber,
  possibleOrders,
} from "../../../../lib/survey/import/values/date-text.js";
import { dateTimeText } from "../../../../lib/survey/import/values/date-time-text.js";

const DAY_MS = 86_400_000;

/** Days of the years in which such files are written. */
const day = fc.integer({
  min: Date.UTC(2001, 0, 1) / DAY_MS,
  max: Date.UTC(2060, 11, 31) / DAY_MS,
});

function written(days: number, order: DateOrder, sign: string): string {
  const date = new Date(days * DAY_MS);
  const two = (value: number) => String(value).padStart(2, "0");
  const parts = {
    year: String(date.getUTCFullYear()),
    month: two(date.getUTCMonth() + 1),
    day: two(date.getUTCDate()),
  };
  return order
    .split("/")
    .map((part) => parts[part as keyof typeof parts])
    .join(sign);
}

describe("dates", () => {
  it("in their own order are the day that was written, and that order is always possible", () => {
    fc.assert(
      fc.property(
        fc.array(day, { minLength: 1 }),
        fc.constantFrom(...DATE_ORDERS),
        fc.constantFrom("-", "/", "."),
        (days, order, sign) => {
          const parts = days.map((one) => dateParts(written(one, order, sign))!);
          expect(parts.map((one) => dayNumber(one, order))).toEqual(days);
          expect(possibleOrders(parts)).toContain(order);
        },
      ),
      { seed: 2, numRuns: 300 },
    );
  });

  it("leave one order where a day is over twelve or the year has four digits in front", () => {
    const orders = (...texts: string[]) => possibleOrders(texts.map((text) => dateParts(text)!));
    expect(orders("2031-02-03")).toEqual(["year/month/day"]);
    expect(orders("03/04/2031", "14/04/2031")).toEqual(["day/month/year"]);
    expect(orders("03/04/2031", "04/14/2031")).toEqual(["month/day/year"]);
    expect(orders("03/04/2031")).toEqual(["day/month/year", "month/day/year"]);
    expect(orders("14/10/2031", "10/14/2031")).toEqual([]);
    expect(orders("14 Oct 2031")).toEqual(["day/month/year"]);
    expect(orders("Oct 14, 2031")).toEqual(["month/day/year"]);
  });

  it.each([
    ["14 mars 2031", 2],
    ["14. März 2031", 2],
    ["14-mrt-2031", 2],
    ["14 août 2031", 7],
    ["14 dic 2031", 11],
    ["14 mei 2031", 4],
  ])("know the month of %s", (text, month) => {
    expect(dayNumber(dateParts(text)!, "day/month/year")).toBe(Date.UTC(2031, month, 14) / DAY_MS);
  });

  it.each(["14/10", "2031", "14-10.2031", "14 Foo 2031", "1.234.567", "", "12:30"])(
    "are none in %j",
    (text) => {
      expect(dateParts(text)).toBeNull();
    },
  );

  it.each([
    ["2031-10-14T08:43:40.5+01:00", 31420.5, 3600],
    ["14.10.2031 08:43", 31380, null],
    ["10/14/2031 8:43:40 PM", 74620, null],
    ["08:43:40 14/10/2031", 31420, null],
    ["20311014T084340Z", 31420, 0],
    ["Tue 14 Oct 2031 08:43:40", 31420, null],
  ])("stand beside a time of day in %s", (text, seconds, offset_s) => {
    expect(dateTimeText(text)).toMatchObject({ clock: { seconds, offset_s } });
  });

  it.each(["2031-10-14", "08:43", "2031-10-14 25:00", "2031-10-14 13:00 PM", "x 08:43"])(
    "have no time of day in %j",
    (text) => {
      expect(dateTimeText(text)).toBeNull();
    },
  );
});
