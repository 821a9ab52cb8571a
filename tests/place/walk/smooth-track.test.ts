import { describe, expect, it } from "vitest";
import { median } from "../../../lib/numerics/statistics/robust.js";
import { expectClose } from "../../support/expect-close.js";
import { type WalkSketch, walkedSurvey } from "../../survey/support/walked-survey.js";
import { open } from "../support/opened.js";

describe("smoothTrack, on opened walks", () => {
  it("loses jitter and spikes, and keeps to the walk", async () => {
    const sketch: WalkSketch = { jitter_m: 0.8, spikes: [60, 61, 130, 200], seed: 3 };
    const [raw, smooth] = [await open(sketch, { jitter: "keep" }), await open(sketch)];
    const { truth_m } = walkedSurvey(sketch);
    const error = (result: typeof raw) => {
      const { chainage_m } = result.value.campaigns[0]!.passes[0]!;
      return truth_m[0]!.map((truth, i) => Math.abs(chainage_m[i]! - truth));
    };
    // White jitter of 0.8 m at 1 Hz: the smoother, which keeps a pace for a minute, must halve it.
    expect(median(error(smooth))).toBeLessThan(0.5 * median(error(raw)));
    expect(Math.max(...error(raw))).toBeGreaterThan(20);
    expect(Math.max(...error(smooth))).toBeLessThan(2.5);
    const row = smooth.tables.find(({ id }) => id === "positions")!.rows[0]!;
    expect(row.spikes).toBe(4);
    expectClose(row.jitter_m as number, 0.8, { relative: 0.2 });
  });

  it("gives a standard deviation within which about two thirds of the errors lie", async () => {
    const sketch: WalkSketch = { jitter_m: 0.5, seed: 11 };
    const { value } = await open(sketch, { gpsError_m: 0 });
    const { chainage_m, positionSd_m } = value.campaigns[0]!.passes[0]!;
    const within = walkedSurvey(sketch).truth_m[0]!.filter(
      (truth, i) => Math.abs(chainage_m[i]! - truth) <= positionSd_m![i]!,
    );
    // 68 % for normal errors; neighbours share theirs, so that 500 readings count as about 60.
    expectClose(within.length / chainage_m.length, 0.68, { absolute: 0.2 });
  });

  it("moves on evenly where a receiver holds its position between two fixes", async () => {
    const sketch: WalkSketch = { held: 5, seed: 5, jitter_m: 0.05 };
    const { value } = await open(sketch);
    const { chainage_m } = value.campaigns[0]!.passes[0]!;
    const { truth_m } = walkedSurvey(sketch);
    const errors = truth_m[0]!.slice(10, -10).map((x, i) => Math.abs(chainage_m[i + 10]! - x));
    expect(Math.max(...errors)).toBeLessThan(1);
    const raw = await open(sketch, { jitter: "keep" });
    const held = raw.value.campaigns[0]!.passes[0]!.chainage_m;
    expect(Math.max(...truth_m[0]!.map((x, i) => Math.abs(held[i]! - x)))).toBeGreaterThan(3);
  });
});
