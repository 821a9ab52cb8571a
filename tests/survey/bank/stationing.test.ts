import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { chainageAt, lonLatAt, positionAt } from "../../../lib/survey/bank/position.js";
import { stationing } from "../../../lib/survey/bank/stationing.js";
import type { Centreline } from "../../../lib/survey/survey.js";
import { expectClose } from "../../support/expect-close.js";

function centrelineOf(points: readonly (readonly [number, number])[], scale = 1): Centreline {
  const chainage_m = new Float64Array(points.length);
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    chainage_m[i] = chainage_m[i - 1]! + Math.hypot(b[0] - a[0], b[1] - a[1]) / scale;
  }
  const easting_m = Float64Array.from(points, ([x]) => 500_000 + x);
  const northing_m = Float64Array.from(points, ([, y]) => 6_000_000 + y);
  return { easting_m, northing_m, chainage_m, epsg: 32631 };
}

/** Out 300 m, round half a circle of 12 m radius, and 300 m back: legs 24 m apart. */
const turn = Array.from({ length: 17 }, (_, k) => {
  const angle = -Math.PI / 2 + (Math.PI * k) / 16;
  return [300 + 12 * Math.cos(angle), 12 + 12 * Math.sin(angle)] as const;
});
const hairpin = centrelineOf([[0, 0], ...turn, [0, 24]]);
const length_m = hairpin.chainage_m.at(-1)!;

function walk(centreline: Centreline, chainages: readonly number[], offset_m = 0) {
  const at = chainages.map((chainage_m) => positionAt(centreline, chainage_m, offset_m));
  return {
    easting_m: Float64Array.from(at, ({ easting_m }) => easting_m),
    northing_m: Float64Array.from(at, ({ northing_m }) => northing_m),
  };
}

const every = (step_m: number, from_m = 0, to_m = length_m) =>
  Array.from({ length: Math.floor((to_m - from_m) / step_m) + 1 }, (_, i) => from_m + i * step_m);

describe("stationing", () => {
  it("brings a walk round a hairpin back to its chainages within half a metre", () => {
    const truth = every(1.2);
    const found = stationing(hairpin, walk(hairpin, truth));
    for (const [i, chainage_m] of truth.entries()) {
      expectClose(found.chainage_m[i]!, chainage_m, { absolute: 0.5 });
      expectClose(found.offset_m[i]!, 0, { absolute: 0.5 });
    }
  });

  it("keeps a jittery walk between the legs on its own leg, from the first reading on", () => {
    // 11 m left of the first leg: with 2 m of jitter every third reading is nearer to the other
    // leg.
    const random = seededRandom(4);
    const truth = every(1.2, 0, 290);
    const track = walk(hairpin, truth, 11);
    const jitter = (values: Float64Array) => values.map((value) => value + 2 * random.normal());
    const shaken = { easting_m: jitter(track.easting_m), northing_m: jitter(track.northing_m) };
    const nearest = truth.map((_, i) => {
      const at = { easting_m: shaken.easting_m[i]!, northing_m: shaken.northing_m[i]! };
      return chainageAt(hairpin, at).chainage_m;
    });
    expect(nearest.filter((chainage_m) => chainage_m > 340).length).toBeGreaterThan(40);
    const { chainage_m } = stationing(hairpin, shaken);
    expect([...chainage_m].filter((chainage) => chainage > 340)).toEqual([]);
  });

  it("changes legs where the walk itself does", () => {
    const there = walk(hairpin, every(1.2, 0, 150));
    const back = walk(hairpin, every(1.2, length_m - 150, length_m));
    const easting_m = Float64Array.from([...there.easting_m, ...back.easting_m]);
    const northing_m = Float64Array.from([...there.northing_m, ...back.northing_m]);
    const { chainage_m } = stationing(hairpin, { easting_m, northing_m });
    expectClose(chainage_m[there.easting_m.length - 1]!, 150, { absolute: 0.5 });
    expectClose(chainage_m[there.easting_m.length]!, length_m - 150, { absolute: 0.5 });
  });

  it("leaves readings without a position NaN and goes on behind them", () => {
    const truth = every(1.2, 0, 60);
    const track = walk(hairpin, truth, 3);
    track.easting_m.fill(Number.NaN, 10, 20);
    const { chainage_m, offset_m } = stationing(hairpin, track);
    expect(chainage_m.slice(10, 20).every(Number.isNaN)).toBe(true);
    expectClose(chainage_m[30]!, 36, { absolute: 0.5 });
    expectClose(offset_m[30]!, 3, { absolute: 0.01 });
  });

  it("goes on straight beyond both ends", () => {
    const straight = centrelineOf([
      [0, 0],
      [100, 0],
    ]);
    const at = { easting_m: Float64Array.of(499_980, 500_130) };
    const track = { ...at, northing_m: Float64Array.of(6_000_004, 5_999_997) };
    const { chainage_m, offset_m } = stationing(straight, track);
    expect([...chainage_m]).toEqual([-20, 130]);
    expect([...offset_m]).toEqual([4, -3]);
    const { distance_m } = chainageAt(straight, { easting_m: 499_980, northing_m: 6_000_004 });
    expectClose(distance_m, Math.hypot(20, 4), { absolute: 1e-9 });
  });

  it("has a walk for each line name", () => {
    const truth = [10, 11, 12, 500, 501, 502];
    const line = ["out", "out", "out", "back", "back", "back"];
    const { chainage_m } = stationing(hairpin, { ...walk(hairpin, truth), line });
    for (const [i, chainage] of truth.entries()) {
      expectClose(chainage_m[i]!, chainage, { absolute: 0.5 });
    }
  });

  it("mirrors when the centreline runs the other way", () => {
    const points = Array.from(hairpin.easting_m, (x, i) => [
      x - 500_000,
      hairpin.northing_m[i]! - 6_000_000,
    ]) as [number, number][];
    const reversed = centrelineOf(points.reverse());
    const track = walk(hairpin, every(7, 5, 250), 2);
    const [one, other] = [stationing(hairpin, track), stationing(reversed, track)];
    for (let i = 0; i < one.chainage_m.length; i++) {
      expectClose(other.chainage_m[i]!, length_m - one.chainage_m[i]!, { absolute: 1e-6 });
      expectClose(other.offset_m[i]!, -one.offset_m[i]!, { absolute: 1e-6 });
    }
  });
});

describe("positionAt", () => {
  it("is left of the line for positive offsets", () => {
    expect(positionAt(hairpin, 100, 5)).toEqual({ easting_m: 500_100, northing_m: 6_000_005 });
  });

  it("measures ground metres where the grid is smaller than the ground", () => {
    const small = centrelineOf(
      [
        [0, 0],
        [999.6, 0],
      ],
      0.9996,
    );
    const at = positionAt(small, 500, -10);
    expectClose(at.easting_m, 500_000 + 499.8, { absolute: 1e-6 });
    expectClose(at.northing_m, 6_000_000 - 9.996, { absolute: 1e-6 });
    const back = chainageAt(small, at);
    expectClose(back.chainage_m, 500, { absolute: 1e-6 });
    expectClose(back.offset_m, -10, { absolute: 1e-6 });
  });

  it("gives NaN for NaN", () => {
    expect(positionAt(hairpin, Number.NaN).easting_m).toBeNaN();
  });
});

describe("lonLatAt", () => {
  it("lies on the central meridian where the easting is 500 km", () => {
    expectClose(lonLatAt(hairpin, 0).longitude, 3, { absolute: 1e-9 });
  });

  it("refuses a centreline of an unknown system", () => {
    expect(() => lonLatAt({ ...hairpin, epsg: 28992 }, 0)).toThrow(
      "EPSG:28992 is no UTM zone and the centreline has no projection",
    );
  });
});
