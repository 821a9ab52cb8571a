import { describe, expect, it } from "vitest";
import { disturbedZones, disturbedZonesText } from "../../lib/seepage/disturbed-zones.js";
import { scoreSeepage } from "../../lib/seepage/score-seepage.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { smallSurvey } from "../support/small-survey.js";

const lens = (x: number, slice: number) => Math.log10(slice > 0 && x >= 304 && x <= 330 ? 120 : 20);
const beside = makeDepthSlices({ truth: lens, texture: 0.01, gaps_m: [[316, 340]] });

describe("a seepage zone beside a stretch that was set aside", () => {
  it("is said to rest on its edge, among the cautions", () => {
    const { value, cautions } = scoreSeepage({ survey: smallSurvey(), slices: beside });
    expect(value.zones.length).toBeGreaterThan(0);
    const text = disturbedZonesText(value.zones, beside);
    expect(text).toMatch(/^Zone 1 \(\d+–\d+ m\) rests mostly on readings within 10 m of a stretch/);
    expect(cautions.map((one) => one.text)).toContain(text);
  });

  it("is said of one whose readings no layered ground explains, as over a wall of sheet piles", () => {
    const even = makeDepthSlices({});
    const misfit = even.chainage_m.map((x) => (x > 200 && x < 400 ? 6 : 0.8));
    const zones = [100, 300].map((from_m, k) => ({ rank: k + 1, from_m, to_m: from_m + 40 }));
    expect(disturbedZones(zones, { ...even, misfit })).toEqual([zones[1]]);
    expect(disturbedZones(zones, even)).toEqual([]);
  });

  it("is not said of a zone that a gap crosses or that lies elsewhere, nor over missing readings", () => {
    const zone = { rank: 1, from_m: 290, to_m: 350 };
    const cut = makeDepthSlices({ gaps_m: [[318, 322]] });
    expect(disturbedZonesText([zone], cut)).toBeNull();
    expect(disturbedZonesText([{ ...zone, from_m: 500, to_m: 530 }], beside)).toBeNull();
    const walkedOver = beside.gap.map((why) => (why === "" ? ("" as const) : "no readings"));
    const narrow = { ...zone, from_m: 305, to_m: 315 };
    expect(disturbedZonesText([narrow], beside)).not.toBeNull();
    expect(disturbedZonesText([narrow], { ...beside, gap: walkedOver })).toBeNull();
  });
});
