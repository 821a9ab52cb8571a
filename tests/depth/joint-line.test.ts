import { describe, expect, it } from "vitest";
import { gatherStations } from "../../lib/depth/data/gather-stations.js";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import { invertLine } from "../../lib/depth/invert/line/invert-line.js";
import { lnCovariances } from "../../lib/depth/invert/line/line-posterior.js";
import { type DepthOptions, depthDefaults } from "../../lib/depth/options.js";
import { faultText, type StepError } from "../../lib/step/step-error.js";
import { DRAWN, type DrawnLine, drawnLine, MANY, USUAL } from "../support/drawn-line.js";
import { expectClose } from "../support/expect-close.js";

const slices = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2.4 },
  { top_m: 2.4, base_m: 5 },
];

/** True log10(ohm-m) of a slice at a station. */
function truthOf(
  { truth }: DrawnLine,
  k: number,
  station: number,
  tops: readonly number[] = DRAWN.layerTops_m,
): number {
  const m = tops.length;
  const { top_m, base_m } = slices[k]!;
  let sum = 0;
  for (let j = 0; j + 1 < m; j++) {
    const shared = Math.min(base_m, tops[j + 1]!) - Math.max(top_m, tops[j]!);
    sum += Math.max(0, shared) * truth[station * m + j]!;
  }
  return -sum / (base_m - top_m) / Math.LN10;
}

const SURVEYS = 300;
const STATIONS = 12;

describe("estimateDepthSlices with all stations together", () => {
  it("holds 80 % of truths in its 80 % intervals over surveys drawn from its prior", async () => {
    let held = 0;
    let all = 0;
    for (let survey = 0; survey < SURVEYS; survey++) {
      const line = drawnLine({ seed: 1000 + survey, stations: STATIONS });
      const { value } = await estimateDepthSlices(line.campaign, {
        ...DRAWN,
        floor_ppm: 10,
        slices,
      });
      for (const at of [1, 6, 10]) {
        for (const slice of [0, 1, 2]) {
          const off = truthOf(line, slice, at) - value.log10Resistivity[slice]![at]!;
          if (Math.abs(off) <= 1.2815515655 * value.sd[slice]![at]!) held += 1;
          all += 1;
        }
      }
    }
    expect(held / all).toBeGreaterThan(0.76);
    expect(held / all).toBeLessThan(0.84);
  });

  // Talts et al. 2018, Validating Bayesian Inference Algorithms with Simulation-Based Calibration:
  // the rank of the truth among draws from its posterior is even. Ten classes of ranks 0 to 39;
  // chi-square of 9 degrees of freedom passes 21.67 once in a hundred (Pearson's test).
  it("draws lines among which the truth has every rank alike, over 300 surveys from the usual prior", async () => {
    const counts = slices.map(() => new Array<number>(10).fill(0));
    let held = 0;
    for (let survey = 0; survey < SURVEYS; survey++) {
      const seed = 3000 + survey;
      const sketch = {
        seed,
        stations: STATIONS,
        drawnFrom: USUAL,
        frequencies: MANY,
        floor_ppm: 5,
      };
      const line = drawnLine(sketch);
      const { value } = await estimateDepthSlices(line.campaign, {
        ...USUAL,
        slices,
        draws: 39,
        seed,
      });
      for (const k of [0, 1, 2]) {
        const truth = truthOf(line, k, 6, USUAL.layerTops_m);
        const rank = value.draws!.filter((draw) => draw[k]![6]! < truth).length;
        counts[k]![Math.floor(rank / 4)]! += 1;
        const off = truth - value.log10Resistivity[k]![6]!;
        if (Math.abs(off) <= 1.2815515655 * value.sd[k]![6]!) held += 1 / (3 * SURVEYS);
      }
    }
    for (const [k, classes] of counts.entries()) {
      const even = SURVEYS / 10;
      const chiSquare = classes.reduce((sum, count) => sum + (count - even) ** 2 / even, 0);
      expect(chiSquare, `slice ${k}: ${classes.join(" ")}`).toBeLessThan(21.67);
    }
    expect(held).toBeGreaterThan(0.76);
    expect(held).toBeLessThan(0.84);
  });

  it("has the station-by-station model and spread where neighbours say nothing of each other", async () => {
    const { campaign } = drawnLine({ seed: 3, stations: 8 });
    const options = { ...DRAWN, floor_ppm: 10, slices, gainSd: 0, walkSd: 0, along_m: 1e-3 };
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
      const off = -joint.state.model[at]! / Math.LN10 - value.layers.log10Resistivity[at]!;
      expect(Math.abs(off)).toBeLessThan(0.01 * sd);
    }
  });

  it("draws lines whose mean and spread are the stated ones", async () => {
    const { campaign } = drawnLine({ seed: 5, stations: 60 });
    const options = { ...DRAWN, floor_ppm: 10, slices, draws: 1000, seed: 2 };
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
    const options = { ...DRAWN, floor_ppm: 10, slices };
    const free = (await estimateDepthSlices(campaign, options)).value;
    const resistivity_ohm_m = 10 ** (free.log10Resistivity[2]![10]! + 3 * free.sd[2]![10]!);
    const tie = { ...slices[2]!, chainage_m: 20, resistivity_ohm_m, log10Sd: 0.01 };
    const tied = (await estimateDepthSlices(campaign, { ...options, ties: [tie] })).value;
    const moved = (i: number) => tied.log10Resistivity[2]![i]! - free.log10Resistivity[2]![i]!;
    expectClose(moved(10), 3 * free.sd[2]![10]!, { relative: 0.1 });
    expect(moved(11)).toBeGreaterThan(0.5 * moved(10));
    expect(moved(11)).toBeGreaterThan(moved(19));
    expect(tied.sd[2]![10]!).toBeLessThan(0.012);
  });

  it("names every tie that no station could hold", async () => {
    const { campaign } = drawnLine({ seed: 9, stations: 6 });
    const tie = { chainage_m: 400, top_m: 1, base_m: 2, resistivity_ohm_m: 30, log10Sd: 0.1 };
    const bad = { ...tie, top_m: 2, base_m: 1, resistivity_ohm_m: -3 };
    const refused = (options: Partial<DepthOptions>) =>
      estimateDepthSlices(campaign, { ...DRAWN, ...options }).then(
        () => [],
        (error: StepError) => error.faults.map((fault) => faultText("", fault)),
      );
    expect(await refused({ ties: [tie, bad], draws: 1.5 })).toEqual([
      ": options.ties[1] must be depths with 0 <= top_m < base_m, got 2 to 1",
      ": options.ties[1].resistivity_ohm_m must be a number above 0 ohm-m, got -3",
      ": options.draws must be a whole number at least 0, got 1.5",
    ]);
    expect(await refused({ ties: [tie] })).toEqual([
      ": options.ties[0].chainage_m must be a chainage within the walk, 0 to 10 m, got 400",
    ]);
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
        slices,
      },
    );
    expect(value.gap.slice(7, 13)).toEqual(["", ...new Array(4).fill("set aside"), ""]);
    for (const i of [8, 9, 10, 11]) expect(value.log10Resistivity[0]![i]).toBeNaN();
    expect(value.sd[0]![7]!).toBeGreaterThan(value.sd[0]![3]!);
  });

  it("more than halves what 5 % gain errors do where gains are unknown and a borehole stands 200 m off", async () => {
    const atBorehole: number[] = [];
    const biases = { ignored: [0, 0, 0], tied: [0, 0, 0] };
    for (let seed = 40; seed < 100; seed++) {
      const line = drawnLine({ seed, stations: 110, gain: GAINS, floor_ppm: 3 });
      const ties = slices.map((slice, k) => ({
        ...slice,
        chainage_m: 4,
        resistivity_ohm_m: 10 ** truthOf(line, k, 2),
        log10Sd: 0.02,
      }));
      const common = { ...DRAWN, slices, floor_ppm: 3 };
      const ignored = await estimateDepthSlices(line.campaign, { ...common, gainSd: 0 });
      const tied = await estimateDepthSlices(line.campaign, { ...common, gainSd: null, ties });
      for (const k of [0, 1, 2]) {
        // Ten stations 196 to 214 m away, sixty surveys.
        for (let i = 100; i < 110; i++) {
          const truth = truthOf(line, k, i);
          biases.ignored[k]! += (ignored.value.log10Resistivity[k]![i]! - truth) / 600;
          biases.tied[k]! += (tied.value.log10Resistivity[k]![i]! - truth) / 600;
        }
        const off = tied.value.log10Resistivity[k]![2]! - truthOf(line, k, 2);
        atBorehole.push(Math.abs(off) / 0.02);
      }
    }
    // 180 ties of stated deviation 0.02 that are true: the readings add to them, so that nearly all
    // estimates lie within three of it.
    expect(atBorehole.filter((z) => z < 3).length).toBeGreaterThanOrEqual(178);
    for (const k of [0, 1, 2]) {
      expect(Math.abs(biases.tied[k]!), `slice ${k}`).toBeLessThan(
        Math.abs(biases.ignored[k]!) / 2,
      );
    }
  });
});

/** Horizontal coils 5 % high, vertical coils 5 % low: what looks like another layering. */
const GAINS = [1.05, 1.05, 1.05, 1.05, 0.95, 0.95, 0.95, 0.95];
