// The probability that a plan declares against the share of seeded walks in which its test sees the
// target: ground drawn layer by layer along the line, the whole response at every station.
import { describe, expect, it } from "vitest";
import { coilKernel } from "../../../lib/earth/coil-kernel.js";
import type { ConductiveEarth } from "../../../lib/earth/coil-response.js";
import { type Random, seededRandom } from "../../../lib/numerics/random.js";
import { normalPoint, normalTail } from "../../../lib/numerics/statistics/normal.js";
import { matchedFilter } from "../../../lib/planning/detection/matched-filter.js";
import { testDeviation } from "../../../lib/planning/detection/test-deviation.js";
import type { PlanOptions } from "../../../lib/planning/options.js";
import { planDefaults } from "../../../lib/planning/options.js";
import type { PlanTarget } from "../../../lib/planning/plan.js";
import { variationFactor } from "../../../lib/planning/scene/ground-variation.js";
import { bothGrounds, topsOf } from "../../../lib/planning/scene/layered-target.js";
import { type PlanGround, planGround } from "../../../lib/planning/scene/plan-ground.js";
import { targetShare } from "../../../lib/planning/scene/target-footprint.js";
import { sceneAt, stationsAbout } from "../../../lib/planning/scene/target-scene.js";
import { channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

const instrument = {
  height_m: 0.6,
  channels: [4000, 25_000].flatMap((frequency_Hz) =>
    (["HCP", "VCP"] as const).map((orientation) => channelOf({ frequency_Hz, orientation })),
  ),
};
const earth = { conductivity_S_per_m: [0.03, 0.05], thickness_m: [1.2] };
const options: PlanOptions = { ...planDefaults, spacing_m: 2, window_m: 40, falseAlarm: 0.05 };

/**
 * ln conductivity of every layer at every station: correlated along the line, Ornstein and
 * Uhlenbeck.
 */
function drawnGround(random: Random, stations: number, split: ConductiveEarth): Float64Array[] {
  const tops = topsOf(split);
  const m = tops.length;
  const factor = variationFactor(tops, {
    levelSd: 0,
    layerSd: options.groundSd,
    correlation_m: options.groundDepth_m,
  });
  const keep = Math.exp(-options.spacing_m / options.groundLength_m);
  let white = Float64Array.from({ length: m }, () => random.normal());
  return Array.from({ length: stations }, (_, i) => {
    if (i > 0) {
      white = white.map((value) => keep * value + Math.sqrt(1 - keep * keep) * random.normal());
    }
    return Float64Array.from({ length: m }, (_, j) => {
      let sum = Math.log(split.conductivity_S_per_m[j]!);
      for (let k = 0; k <= j; k++) sum += factor[j * m + k]! * white[k]!;
      return sum;
    });
  });
}

/** Share of walks whose test is above the threshold, the target as strong as `strength`, 0 or 1. */
function sharePassed(ground: PlanGround, walks: number, strength: 0 | 1): number {
  const random = seededRandom(17);
  const { plain, full } = bothGrounds(earth, ground.target);
  const change = Float64Array.from(full.conductivity_S_per_m, (sigma, j) =>
    Math.log(sigma / plain.conductivity_S_per_m[j]!),
  );
  const { weights } = matchedFilter(sceneAt(ground, options, 0));
  const threshold = normalPoint(options.falseAlarm);
  const x = stationsAbout(ground.target, options, 0);
  const { channels, height_m } = instrument;
  const kernel = coilKernel({ thickness_m: plain.thickness_m, height_m, channels });
  const out = { inphase_ppm: new Float64Array(4), quadrature_ppm: new Float64Array(4) };
  const shares = ground.below.map((below) => targetShare(below, ground.target));
  let passed = 0;
  for (let walk = 0; walk < walks; walk++) {
    let test = 0;
    for (const [i, ln] of drawnGround(random, x.length, plain).entries()) {
      kernel.evaluate(ln, out);
      const without = out.quadrature_ppm.slice();
      kernel.evaluate(
        ln.map((value, j) => value + change[j]!),
        out,
      );
      for (const c of channels.keys()) {
        const mark = strength * shares[c]!(x[i]!) * (out.quadrature_ppm[c]! - without[c]!);
        const value = without[c]! + mark;
        const noise = Math.hypot(options.quadratureFloor_ppm, options.proportionalNoise * value);
        test += weights[c]![i]! * (value + noise * random.normal());
      }
    }
    if (test > threshold) passed += 1;
  }
  return passed / walks;
}

function declared(ground: PlanGround): number {
  const scene = sceneAt(ground, options, 0);
  const { detectability, weights } = matchedFilter(scene);
  return normalTail(
    (normalPoint(options.falseAlarm) - detectability) / testDeviation(scene, weights),
  );
}

const WALKS = 1500;

/** Three standard errors of a share. */
const tolerance = (share: number) => 3 * Math.sqrt((share * (1 - share)) / WALKS);

describe("simulated walks", () => {
  const targets: PlanTarget[] = [
    { kind: "lens", length_m: 8, top_m: 1.1, base_m: 2, conductivityRatio: 0.6 },
    { kind: "lens", length_m: 16, top_m: 2, base_m: 3.4, conductivityRatio: 1.8 },
    { kind: "lens", length_m: 4, top_m: 0.5, base_m: 1.5, conductivityRatio: 0.5 },
    { kind: "boundary", beyond: { conductivity_S_per_m: [0.023, 0.05], thickness_m: [1.2] } },
    { kind: "boundary", beyond: { conductivity_S_per_m: [0.03, 0.06], thickness_m: [0.9] } },
  ];
  for (const [i, target] of targets.entries()) {
    it(`see ${target.kind} ${i + 1} as often as the plan declares`, () => {
      const ground = planGround({ instrument, earth, target }, options);
      const expected = declared(ground);
      // Neither hopeless nor sure, so that the comparison says something.
      expect(expected).toBeGreaterThan(0.15);
      expect(expected).toBeLessThan(0.95);
      expectClose(sharePassed(ground, WALKS, 1), expected, { absolute: tolerance(expected) });
    });
  }

  it("raise false alarms as often as asked for", () => {
    const ground = planGround({ instrument, earth, target: targets[0]! }, options);
    const share = sharePassed(ground, WALKS, 0);
    expectClose(share, options.falseAlarm, { absolute: tolerance(options.falseAlarm) });
  });
});
