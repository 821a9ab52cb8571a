import { describe, expect, it } from "vitest";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import { DRAWN, drawnLine, MANY, SLICES, truthOf, USUAL } from "../support/drawn-line.js";
import { expectClose } from "../support/expect-close.js";

const SURVEYS = 300;
const STATIONS = 12;
/**
 * The binomial error is 2.3 % for 300 surveys, less where errors of their slices are independent.
 */
const HELD = { absolute: 0.04 };

/** Horizontal coils 5 % high, vertical coils 5 % low: what looks like another layering. */
const GAINS = [1.05, 1.05, 1.05, 1.05, 0.95, 0.95, 0.95, 0.95];

describe("estimateDepthSlices with all stations together", () => {
  it("holds 80 % of truths in its 80 % intervals over surveys drawn from its prior", async () => {
    let held = 0;
    let all = 0;
    for (let survey = 0; survey < SURVEYS; survey++) {
      const line = drawnLine({ seed: 1000 + survey, stations: STATIONS });
      const { value } = await estimateDepthSlices(line.campaign, {
        ...DRAWN,
        floor_ppm: 10,
        slices: SLICES,
      });
      for (const at of [1, 6, 10]) {
        for (const slice of [0, 1, 2]) {
          const off = truthOf(line, slice, at) - value.log10Resistivity[slice]![at]!;
          if (Math.abs(off) <= 1.2815515655 * value.sd[slice]![at]!) held += 1;
          all += 1;
        }
      }
    }
    expectClose(held / all, 0.8, HELD);
  });

  // Talts et al. 2018, Validating Bayesian Inference Algorithms with Simulation-Based Calibration:
  // the rank of the truth among draws from its posterior is even. Ten classes of ranks 0 to 39;
  // chi-square of 9 degrees of freedom passes 21.67 once in a hundred (Pearson's test).
  it("draws lines with even ranks of the truth, over surveys from the default prior", async () => {
    const counts = SLICES.map(() => new Array<number>(10).fill(0));
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
        slices: SLICES,
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
    expectClose(held, 0.8, HELD);
  });

  it("more than halves the bias by 5 % gain errors by a borehole 200 m off", async () => {
    const atBorehole: number[] = [];
    const biases = { ignored: [0, 0, 0], tied: [0, 0, 0] };
    for (let seed = 40; seed < 100; seed++) {
      const line = drawnLine({ seed, stations: 110, gain: GAINS, floor_ppm: 3 });
      const ties = SLICES.map((slice, k) => ({
        ...slice,
        chainage_m: 4,
        resistivity_ohm_m: 10 ** truthOf(line, k, 2),
        log10Sd: 0.02,
      }));
      const common = { ...DRAWN, slices: SLICES, floor_ppm: 3 };
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
