import { describe, expect, it } from "vitest";
import { gatherStations } from "../../../../lib/depth/data/gather-stations.js";
import { estimateDepthSlices } from "../../../../lib/depth/estimate-depth-slices.js";
import { invertLine } from "../../../../lib/depth/invert/line/invert-line.js";
import { lnCovariances } from "../../../../lib/depth/invert/line/line-posterior.js";
import { type DepthOptions, depthDefaults } from "../../../../lib/depth/options.js";
import { DRAWN, drawnLine, SLICES } from "../../../support/drawn-line.js";
import { expectClose } from "../../../support/expect-close.js";

describe("estimateDepthSlices with all stations together", () => {
  it("is the station-by-station estimate where neighbours are uncorrelated", async () => {
    const { campaign } = drawnLine({ seed: 3, stations: 8 });
    const options = {
      ...DRAWN,
      floor_ppm: 10,
      slices: SLICES,
      gainSd: 0,
      walkSd: 0,
      along_m: 1e-3,
    };
    // Without the noise from repeats both go by the scatter of the readings.
    const { noise: _, ...plain } = campaign;
    const used: DepthOptions = { ...depthDefaults, ...options, priorMean_ohm_m: null };
    const joint = await invertLine(plain, gatherStations(plain, 2), used);
    const { value } = await estimateDepthSlices(plain, {
      ...options,
      priorMean_ohm_m: null,
      together: "station",
    });
    const spread = lnCovariances(joint.covariance, joint.hyper.prior.layers.factor, joint.data.q);
    const m = joint.data.m;
    // Each stops where a step moves it by a thousandth of a deviation or so.
    for (const [at, sd] of value.layers.sd.entries()) {
      const [i, j] = [Math.floor(at / m), at % m];
      expectClose(Math.sqrt(spread[i]![j * m + j]!) / Math.LN10, sd, { relative: 0.01 });
      const off = -joint.model[at]! / Math.LN10 - value.layers.log10Resistivity[at]!;
      expect(Math.abs(off)).toBeLessThan(0.01 * sd);
    }
  });

  it("draws lines whose mean and spread are the stated ones", async () => {
    const { campaign } = drawnLine({ seed: 5, stations: 60 });
    const options = { ...DRAWN, floor_ppm: 10, slices: SLICES, draws: 1000, seed: 2 };
    const { value } = await estimateDepthSlices(campaign, options);
    for (const k of [0, 1, 2]) {
      let [drawn, stated, off] = [0, 0, 0];
      for (const [i, sd] of value.sd[k]!.entries()) {
        const at = value.draws!.map((draw) => draw[k]![i]!);
        const mean = at.reduce((sum, v) => sum + v, 0) / at.length;
        drawn += at.reduce((sum, v) => sum + (v - mean) ** 2, 0) / at.length;
        stated += sd * sd;
        off += ((mean - value.log10Resistivity[k]![i]!) / sd) ** 2 / 60;
      }
      // Stated are those of sixteen other draws: their spread over sixty stations, some twenty of
      // them by themselves, is known to some 4 %, and their mean to a seventh of a deviation.
      expectClose(Math.sqrt(drawn / stated), 1, { absolute: 0.08 });
      expect(Math.sqrt(off)).toBeLessThan(0.25);
    }
  });

  it("is drawn to a borehole's tie, and so are the stations beside it", async () => {
    const { campaign } = drawnLine({ seed: 9, stations: 20 });
    const options = { ...DRAWN, floor_ppm: 10, slices: SLICES };
    const free = (await estimateDepthSlices(campaign, options)).value;
    const resistivity_ohm_m = 10 ** (free.log10Resistivity[2]![10]! + 3 * free.sd[2]![10]!);
    const tie = { ...SLICES[2]!, chainage_m: 20, resistivity_ohm_m, log10Sd: 0.01 };
    const tied = (await estimateDepthSlices(campaign, { ...options, ties: [tie] })).value;
    const moved = (i: number) => tied.log10Resistivity[2]![i]! - free.log10Resistivity[2]![i]!;
    expectClose(moved(10), 3 * free.sd[2]![10]!, { relative: 0.1 });
    expect(moved(11)).toBeGreaterThan(0.5 * moved(10));
    expect(moved(11)).toBeGreaterThan(moved(19));
    expect(tied.sd[2]![10]!).toBeLessThan(0.012);
  });

  it("bridges a stretch without readings, and is less sure of it", async () => {
    const { campaign } = drawnLine({ seed: 9, stations: 20 });
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((mask) => mask.map((_, i) => (i >= 8 && i <= 11 ? 1 : 0))),
    }));
    const causes = [{ kind: "detected" as const, text: "metal" }];
    const { value } = await estimateDepthSlices(
      { ...campaign, passes, causes },
      {
        ...DRAWN,
        floor_ppm: 10,
        slices: SLICES,
      },
    );
    expect(value.gap.slice(7, 13)).toEqual(["", ...new Array(4).fill("set aside"), ""]);
    for (const i of [8, 9, 10, 11]) expect(value.log10Resistivity[0]![i]).toBeNaN();
    expect(value.sd[0]![7]!).toBeGreaterThan(value.sd[0]![3]!);
  });
});
