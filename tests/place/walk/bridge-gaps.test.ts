import { describe, expect, it } from "vitest";
import { CAMPAIGNS } from "../../../data-demo/generator/facts.js";
import { fieldDay } from "../../../data-demo/generator/walk.js";
import { expectClose } from "../../support/expect-close.js";
import { openedDemo } from "../../support/opened-demo.js";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";
import { open } from "../support/opened.js";

describe("gaps in the positions", () => {
  it("of up to 30 m and 30 s are bridged by time, flagged and less sure", async () => {
    const sketch: WalkSketch = { gaps: [[100, 118]], seed: 7, jitter_m: 0.1 };
    const { value, accounting, cautions, summary } = await open(sketch);
    const pass = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    for (let i = 100; i < 118; i++) {
      expectClose(pass.chainage_m[i]!, truth_m[0]![i]!, { absolute: 1.5 });
      expect(pass.positionBridged![i]).toBe(1);
      expect(pass.positionSd_m![i]).toBeGreaterThan(pass.positionSd_m![90]!);
    }
    expect(pass.positionBridged!.reduce((sum, flag) => sum + flag, 0)).toBe(18);
    expect(accounting!.setAside).toEqual([]);
    expect(summary).toContain("The positions of 18 readings were bridged by time.");
    expect(
      cautions.some(({ text }) => text.includes("18 readings without a position lie in 1 gap")),
    ).toBe(true);
  });

  it("that are longer, at the ends, or of an impossible pace stay gaps", async () => {
    const sketch: WalkSketch = {
      gaps: [
        [0, 5],
        [100, 140],
        [495, 500],
      ],
      seed: 7,
    };
    const { value, accounting, cautions } = await open(sketch);
    expect(cautions.map(({ text }) => text).join("\n")).toMatch(
      /50 readings without a position, of \d+, lie in 3 gaps that are not bridged .* are set aside/,
    );
    const { chainage_m, setAside } = value.campaigns[0]!.passes[0]!;
    expect(accounting!.setAside).toEqual([{ cause: "no position", readings: 50 }]);
    for (const i of [0, 4, 100, 139, 495, 499]) {
      expect(chainage_m[i]).toBeNaN();
      expect(setAside[0]![i]).toBe(1);
    }
    const leap = await open({ gaps: [[100, 103]], leap_m: 25, seed: 7 });
    expect(leap.value.campaigns[0]!.passes[0]!.chainage_m[101]).toBeNaN();
  });

  it("are bridged piece by piece where a peg was passed within", async () => {
    const sketch: WalkSketch = { gaps: [[100, 140]], seed: 7, pegs: [{ row: 120 }] };
    const { value } = await open(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    for (let i = 100; i < 140; i++) expectClose(chainage_m[i]!, truth_m[0]![i]!, { absolute: 2 });
  });

  it("of the demo are bridged to within 3 standard deviations of the walker's place", async () => {
    const { value } = await openedDemo();
    const off: number[] = [];
    for (const campaign of value.campaigns) {
      const day = fieldDay(CAMPAIGNS.find(({ label }) => label === campaign.label)!);
      for (const pass of campaign.passes) {
        const stations = day.stations[pass.instrument.channels[0]!.orientation as "HCP"];
        for (let i = 0; i < pass.count; i++) {
          if (pass.positionBridged![i] === 0) continue;
          off.push((pass.chainage_m[i]! - stations[i]!.chainage_m) / pass.positionSd_m![i]!);
        }
      }
    }
    expect(off.length).toBe(160);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(3);
  });
});
