import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { placeDefaults } from "../../../lib/place/options.js";
import { placePass } from "../../../lib/place/walk/place-pass.js";
import { positionAt } from "../../../lib/survey/bank/position.js";
import type { Centreline, Pass } from "../../../lib/survey/survey.js";
import { channelOf, passOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

/** Out 300 m, round half a circle of 12 m radius, and 300 m back: legs 24 m apart. */
function hairpin(): Centreline {
  const turn = Array.from({ length: 33 }, (_, k) => {
    const angle = -Math.PI / 2 + (Math.PI * k) / 32;
    return [300 + 12 * Math.cos(angle), 12 + 12 * Math.sin(angle)] as const;
  });
  const points = [[0, 0] as const, ...turn, [0, 24] as const];
  const chainage_m = new Float64Array(points.length);
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    chainage_m[i] = chainage_m[i - 1]! + Math.hypot(b[0] - a[0], b[1] - a[1]);
  }
  return {
    easting_m: Float64Array.from(points, ([x]) => 500_000 + x),
    northing_m: Float64Array.from(points, ([, y]) => 6_000_000 + y),
    chainage_m,
    epsg: 32631,
  };
}

/**
 * A walk of the whole hairpin at 1.2 m/s, one reading a second, with jitter; no position in a gap.
 */
interface HairpinWalk {
  readonly gap?: readonly [number, number];
  readonly jitter_m: number;
  readonly seed: number;
}

function walkOf(centreline: Centreline, { gap = [0, 0], jitter_m, seed }: HairpinWalk) {
  const length_m = centreline.chainage_m.at(-1)!;
  const truth_m = Array.from({ length: Math.floor(length_m / 1.2) }, (_, i) => 1.2 * i);
  const random = seededRandom(seed);
  const at = truth_m.map((x, i) => {
    if (i >= gap[0] && i < gap[1]) return { easting_m: Number.NaN, northing_m: Number.NaN };
    const { easting_m, northing_m } = positionAt(centreline, x);
    return {
      easting_m: easting_m + jitter_m * random.normal(),
      northing_m: northing_m + jitter_m * random.normal(),
    };
  });
  const plain = passOf({
    channels: [channelOf()],
    values: [truth_m.map(() => 1)],
    chainage_m: truth_m,
    time_s: truth_m.map((_, i) => 1e9 + i),
  });
  const pass: Pass = {
    ...plain,
    easting_m: Float64Array.from(at, ({ easting_m }) => easting_m),
    northing_m: Float64Array.from(at, ({ northing_m }) => northing_m),
  };
  return { pass, truth_m };
}

const SEEDS = Array.from({ length: 20 }, (_, k) => 21 + k);
const how = { options: { ...placeDefaults }, knots: [] };

describe("placePass", () => {
  it("places a jittery walk round a hairpin within half a metre", () => {
    const centreline = hairpin();
    const errorsOf = (seed: number, jitter_m: number) => {
      const { pass, truth_m } = walkOf(centreline, { jitter_m, seed });
      const { chainage_m } = placePass(pass, centreline, how);
      return truth_m.map((truth, i) => Math.abs(chainage_m[i]! - truth));
    };
    for (const seed of SEEDS) expect(Math.max(...errorsOf(seed, 0.2))).toBeLessThan(0.5);
    expect(Math.max(...errorsOf(21, 0.3))).toBeLessThan(0.5);
    // White jitter of 0.3 m leaves 0.14 m after smoothing: half a metre is 3.5 standard deviations,
    // which about 5 of 10,000 errors exceed, and neighbours share theirs.
    const errors = SEEDS.flatMap((seed) => errorsOf(seed, 0.3));
    expect(errors.filter((error) => error > 0.5).length / errors.length).toBeLessThan(0.003);
    expect(Math.max(...errors)).toBeLessThan(0.75);
  });

  it("bridges a gap that takes in most of the turn along the bank, not across it", () => {
    const centreline = hairpin();
    // From 302 to 330 m of chainage: a good 5 m as the crow flies less than along the turn.
    for (const seed of SEEDS) {
      const { pass, truth_m } = walkOf(centreline, { gap: [252, 275], jitter_m: 0.05, seed });
      const { chainage_m, bridged, offset_m } = placePass(pass, centreline, how);
      for (let i = 252; i < 275; i++) {
        expect(bridged[i]).toBe(1);
        expectClose(chainage_m[i]!, truth_m[i]!, { absolute: 0.5 });
        expectClose(offset_m[i]!, 0, { absolute: 0.5 });
      }
    }
  });

  it("keeps positions as they came when told to, and without times", () => {
    const centreline = hairpin();
    const { pass } = walkOf(centreline, { jitter_m: 0.3, seed: 21 });
    const timeless = { ...pass, time_s: new Float64Array(pass.count).fill(Number.NaN) };
    const kept = placePass(pass, centreline, {
      options: { ...placeDefaults, jitter: "keep" },
      knots: [],
    });
    for (const placed of [kept, placePass(timeless, centreline, how)]) {
      expect(placed.easting_m).toEqual(pass.easting_m);
      expect(placed.jitter_m).toBeNaN();
    }
  });
});
