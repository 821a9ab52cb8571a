import { describe, expect, it } from "vitest";
import { renderSvg } from "../../../lib/step/show/render-svg.js";
import { accountFigure } from "../../../lib/survey/account/account-figure.js";

const accounting = Object.freeze({
  readings: 1000,
  kept: 100,
  corrected: 700,
  setAside: Object.freeze([
    { cause: "no position", readings: 50 },
    { cause: "noise", readings: 150 },
  ]),
});

const rowsOf = (figure: ReturnType<typeof accountFigure>) =>
  (figure.spec.data as { values: { l: string; a: number; b: number; t: string }[] }).values;

describe("accountFigure", () => {
  it("goes down from what came in to what is in use, each bar where the one above ends", () => {
    const figure = accountFigure(accounting);
    expect(figure.title).toBe("800 of 1,000 readings are in use (80.0 %)");
    expect(rowsOf(figure).map(({ l, a, b, t }) => [l, a, b, t])).toEqual([
      ["Came in", 0, 1000, "1,000"],
      ["Set aside: noise", 850, 1000, "−150 (15.0 %)"],
      ["Set aside: no position", 800, 850, "−50 (5.0 %)"],
      ["In use, corrected", 100, 800, "700 (70.0 %)"],
      ["In use as they came", 0, 100, "100 (10.0 %)"],
    ]);
  });

  it("draws without a warning, an account without readings as well", async () => {
    const nothing = { readings: 0, kept: 0, corrected: 0, setAside: [] };
    for (const account of [accounting, nothing, { ...nothing, readings: 5, kept: 5 }]) {
      expect(await renderSvg(accountFigure(account).spec)).toContain("Came in");
    }
  });

  it("never rounds a loss away", () => {
    const figure = accountFigure({
      readings: 500_000,
      kept: 499_999,
      corrected: 0,
      setAside: [{ cause: "noise", readings: 1 }],
    });
    expect(figure.title).toBe("499,999 of 500,000 readings are in use (over 99.9 %)");
    expect(rowsOf(figure)[1]!.t).toBe("−1 (0.00 %)");
  });
});
