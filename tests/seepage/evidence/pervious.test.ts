import { describe, expect, it } from "vitest";
import { perviousUnderCover } from "../../../lib/seepage/evidence/pervious.js";
import { cellsAlong } from "../../../lib/seepage/evidence/piece.js";
import { slicesAt25 } from "../../../lib/seepage/evidence/slices-at-25.js";
import { standingOut } from "../../../lib/seepage/evidence/standing-out.js";
import { type DepthSlicesMaker, makeDepthSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";

/** 20 ohm-m with 100 ohm-m from 1 m down between 300 and 360 m. */
const truth = (x: number, k: number) => Math.log10(k > 0 && x >= 300 && x <= 360 ? 100 : 20);
const of = (maker: DepthSlicesMaker = {}) => {
  const given = makeDepthSlices({ truth, texture: 0, sd: 0.02, ...maker });
  return { cells: cellsAlong(given.chainage_m, 5), ground: slicesAt25(given, 1) };
};
const pervious = { log10: Math.log10(50), least_m: 0.5 };
const at = (value: Float64Array, x: number) => value[Math.round(x / 5)]!;

describe("pervious ground under a cover", () => {
  it("is there where draws have it below the first slice, and says how thick and under what", () => {
    const { cells, ground } = of();
    const piece = perviousUnderCover(cells, ground, pervious);
    expectClose(at(piece.value, 330), 1, { absolute: 1e-6 });
    expectClose(at(piece.value, 100), 0, { absolute: 1e-6 });
    expect(piece.statement(1, { from_m: 310, to_m: 350 })).toBe(
      "100 % likely that 0.5 m or more of ground over 50 ohm-m lie between the first slice and 5.0 m " +
        "(thickness 4.0–4.0 m, 80 %, under 1.0 m of cover).",
    );
  });

  it("has the chance that the slices' own spread gives it", () => {
    // One slice of two at the threshold: half of its draws lie above.
    const { cells, ground } = of({ truth: (_, k) => (k === 1 ? Math.log10(50) : 0.5), sd: 0.1 });
    const { value } = perviousUnderCover(cells, ground, pervious);
    const mean = value.reduce((sum, one) => sum + one, 0) / value.length;
    expectClose(mean, 0.5, { absolute: 0.05 });
  });

  it("is the same ground in summer and in winter", () => {
    const probe = (time_s: number, temperature_degC: number) =>
      [0.1, 1, 5].map((depth_m) => ({ time_s, depth_m, temperature_degC }));
    const winter_s = Date.UTC(2032, 0, 10) / 1000;
    // At 4 °C the same ground is 1.4494 / 0.6 … times as resistive as at 20 °C: by the factor itself.
    const factor = (t: number) => 0.447 + 1.4034 * Math.exp(-t / 26.815);
    const season = (time_s: number, t: number) =>
      of({
        time_s,
        soilTemperature: probe(time_s, t),
        truth: (x, k) => truth(x, k) - 0.25 + Math.log10(factor(t)),
      });
    const summer = season(Date.UTC(2032, 6, 10) / 1000, 20);
    const winter = season(winter_s, 4);
    for (const x of [100, 330]) {
      const [one, other] = [summer, winter].map(({ cells, ground }) =>
        at(perviousUnderCover(cells, ground, pervious).value, x),
      );
      expectClose(one!, other!, { absolute: 1e-9 });
    }
    expect(winter.ground.at25).toBe(true);
  });

  it("is unknown in a gap, and where no slice below the first is known", () => {
    const gap = of({ gaps_m: [[320, 340]] });
    expect(at(perviousUnderCover(gap.cells, gap.ground, pervious).value, 330)).toBeNaN();
    const shallow = of({ reliable: 1 });
    const piece = perviousUnderCover(shallow.cells, shallow.ground, pervious);
    expect(piece.value.every(Number.isNaN)).toBe(true);
  });
});

describe("ground that stands out", () => {
  const around = { ratio: 1.25, reach_m: 100 };

  it("does so against the line about it, whatever its own resistivity", () => {
    for (const shift of [-0.5, 0, 0.8]) {
      const { cells, ground } = of({ truth: (x, k) => truth(x, k) + shift });
      const { value } = standingOut(cells, ground, around);
      expectClose(at(value, 330), 1, { absolute: 1e-6 });
      expect(at(value, 100)).toBeLessThan(0.01);
    }
  });

  it("is not found along ground that is sandy throughout", () => {
    const { cells, ground } = of({ truth: () => 2 });
    const { value } = standingOut(cells, ground, around);
    expect(Math.max(...value)).toBeLessThan(0.05);
  });
});
