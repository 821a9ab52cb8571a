import { describe, expect, it } from "vitest";
import { commonNumbers } from "../../../lib/depth/posterior/common-numbers.js";
import { directionsOf } from "../../../lib/depth/posterior/directions.js";
import type { MemberResponses } from "../../../lib/depth/posterior/member-responses.js";
import { memberScreen } from "../../../lib/depth/posterior/member-screen.js";
import { emptyScreened, screenStations } from "../../../lib/depth/posterior/screen-station.js";
import { StationDrawer, weightsOf } from "../../../lib/depth/posterior/station-draws.js";
import { BLOCK_SD, ensembleOf, MOST_LAYERS } from "../../../lib/depth/prior/earth-ensemble.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

// Half-spaces at even distances, whose two readings are x and −0.4 x + 1: the mixture of Gaussians
// about them is known in closed form.
const COUNT = 60;
const SD = BLOCK_SD;
const NOISE = Float64Array.of(0.15, 0.3);
const centre = (k: number) => -4 + 0.1 * k;

const ensemble = ensembleOf(
  Array.from({ length: COUNT }, (_, k) => ({
    lnConductivity: [centre(k)],
    thickness_m: [],
    block: [0],
    kind: 0,
    number: k,
    sd: 0,
  })),
  Float64Array.of(-Math.log(COUNT)),
);
const responses: MemberResponses = {
  channels: 2,
  height_m: 1,
  value: Float32Array.from({ length: 2 * COUNT }, (_, at) => {
    const x = centre(at >> 1);
    return at % 2 === 0 ? x : 1 - 0.4 * x;
  }),
  byLog: {
    rows: Float32Array.from({ length: 2 * MOST_LAYERS }, (_, at) => [1, -0.4][at] ?? 0),
    slot: new Uint32Array(COUNT),
    slope: new Float64Array(2 * COUNT).fill(1),
    shares: new Float32Array(0),
  },
  byStretch: new Float32Array(2 * COUNT),
  byHeight: new Float32Array(2 * COUNT),
};
const walks = { walk: Int32Array.of(0, 0), walks: 1, heightSd_m: 0 };
const directions = directionsOf(ensemble, responses, walks);
const reading = Float64Array.of(-1.3, 1.7);
const screen = memberScreen(directions, NOISE, {
  channels: [0, 1],
  low: reading,
  high: reading,
  kinds: Float64Array.of(1),
});
const found = emptyScreened(COUNT);
screenStations(screen, [reading], { sd: NOISE, reach: 30, hint: -1, out: [found] });

/** Posterior moments by brute force: the mixture prior times the likelihood on a fine grid. */
function bruteForce() {
  const sums = [0, 0, 0];
  for (let x = -7; x < 5; x += 0.002) {
    let prior = 0;
    for (let k = 0; k < COUNT; k++) prior += Math.exp(-0.5 * ((x - centre(k)) / SD) ** 2);
    const left = [(reading[0]! - x) / NOISE[0]!, (reading[1]! - 1 + 0.4 * x) / NOISE[1]!];
    const mass = prior * Math.exp(-0.5 * (left[0]! ** 2 + left[1]! ** 2));
    for (let p = 0; p < 3; p++) sums[p]! += mass * x ** p;
  }
  const mean = sums[1]! / sums[0]!;
  return { mean, sd: Math.sqrt(sums[2]! / sums[0]! - mean * mean) };
}

describe("screenStations", () => {
  it("weighs each member by its marginal likelihood", () => {
    const weights = weightsOf(found);
    const densities = Array.from({ length: COUNT }, (_, k) => {
      const [a, b] = [SD ** 2 + NOISE[0]! ** 2, 0.16 * SD ** 2 + NOISE[1]! ** 2];
      const ab = -0.4 * SD ** 2;
      const [r, s] = [reading[0]! - centre(k), reading[1]! - 1 + 0.4 * centre(k)];
      const square = (b * r * r - 2 * ab * r * s + a * s * s) / (a * b - ab * ab);
      return Math.exp(-0.5 * square);
    });
    const sum = densities.reduce((total, value) => total + value, 0);
    for (let i = 0; i < found.count; i++) {
      // Values and factors are held in single precision.
      expectClose(weights[i]!, densities[found.member[i]!]! / sum, { absolute: 1e-5 });
    }
  });

  it("leaves out what is beyond reach, whatever it tries first", () => {
    const near = emptyScreened(COUNT);
    screenStations(screen, [reading], {
      sd: NOISE,
      reach: 3,
      hint: screen.members.length - 1,
      out: [near],
    });
    const best = Math.max(...found.score.subarray(0, found.count));
    const within = found.score.subarray(0, found.count).filter((score) => score >= best - 3);
    expect(near.count).toBe(within.length);
  });
});

describe("StationDrawer", () => {
  it("draws the posterior that brute force finds, and errors that make up the reading", () => {
    const draws = 20_000;
    const numbers = commonNumbers(draws, { width: 2, walks: 1 }, seededRandom(5));
    const given = { screened: found, weights: weightsOf(found), screen, sd: NOISE };
    let sum = 0;
    let squares = 0;
    new StationDrawer(directions, numbers).take(reading, given, ({ layers, error }) => {
      const x = layers[0]!;
      sum += x;
      squares += x * x;
      expectClose(x + error[0]!, reading[0]!, { absolute: 1e-4 });
      expectClose(1 - 0.4 * x + error[1]!, reading[1]!, { absolute: 1e-4 });
    });
    const truth = bruteForce();
    const mean = sum / draws;
    // Four standard errors of the mean of 20 000 draws, 0.028 deviations, and of the deviation.
    expectClose(mean, truth.mean, { absolute: 0.028 * truth.sd });
    expectClose(Math.sqrt(squares / draws - mean * mean), truth.sd, { relative: 0.02 });
  });
});
