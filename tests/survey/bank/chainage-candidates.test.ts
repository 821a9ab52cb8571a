// Places on a line of many segments: what is looked at in blocks is what a walk along it finds.
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { candidatesAt } from "../../../lib/survey/bank/chainage-candidates.js";
import { positionAt } from "../../../lib/survey/bank/position.js";
import type { Centreline } from "../../../lib/survey/survey.js";

/** A line that winds, 400 segments of 3 m, its legs some tens of metres apart. */
function winding(seed: number): Centreline {
  const random = seededRandom(seed);
  const [x, y, s] = [[500_000], [6_000_000], [0]];
  let heading = 0;
  for (let k = 0; k < 400; k++) {
    heading += 0.12 * Math.sin(k / 25) + 0.05 * random.normal();
    x.push(x[k]! + 3 * Math.cos(heading));
    y.push(y[k]! + 3 * Math.sin(heading));
    s.push(s[k]! + 3);
  }
  const [easting_m, northing_m, chainage_m] = [x, y, s].map((one) => Float64Array.from(one));
  return { easting_m: easting_m!, northing_m: northing_m!, chainage_m: chainage_m!, epsg: 32631 };
}

const STEP_M = 0.05;

/** Local minima of the distance by walking along the line; ends included. */
function walkedMinima(line: Centreline, east: number, north: number) {
  const length_m = line.chainage_m.at(-1)!;
  const away = Array.from({ length: Math.round(length_m / STEP_M) + 1 }, (_, i) => {
    const at = positionAt(line, i * STEP_M);
    return Math.hypot(at.easting_m - east, at.northing_m - north);
  });
  const minima = away.flatMap((distance_m, i) =>
    distance_m <= (away[i - 1] ?? Number.POSITIVE_INFINITY) &&
    distance_m < (away[i + 1] ?? Number.POSITIVE_INFINITY)
      ? [{ chainage_m: i * STEP_M, distance_m }]
      : [],
  );
  const nearest_m = Math.min(...away);
  return minima.filter(({ distance_m }) => distance_m <= nearest_m + 59);
}

describe("candidatesAt", () => {
  it.each([1, 2, 3])("finds what a walk along the line finds, seed %i", (seed) => {
    const line = winding(seed);
    const random = seededRandom(100 + seed);
    for (let i = 0; i < 12; i++) {
      const k = random.integer(400);
      const east = line.easting_m[k]! + 25 * random.normal();
      const north = line.northing_m[k]! + 25 * random.normal();
      const found = candidatesAt(line, east, north);
      const walked = walkedMinima(line, east, north);
      expect(found[0]!.distance_m).toBeCloseTo(Math.min(...walked.map((one) => one.distance_m)), 2);
      for (const minimum of walked.slice(0, 8)) {
        if (walked.length > 8) break;
        const near = found.some((one) => Math.abs(one.chainage_m - minimum.chainage_m) < 0.2);
        expect(near, `${minimum.chainage_m}`).toBe(true);
      }
    }
  });
});
