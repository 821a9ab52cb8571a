import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { distance_m } from "../../../../lib/survey/bank/projection.js";
import { lineOfWalk } from "../../../../lib/survey/import/centreline/line-of-walk.js";
import { expectClose } from "../../../support/expect-close.js";

/** A bank that bends by a right angle over 300 m: a quarter of a circle, then straight on. */
function bank(s: number) {
  const radius = 600 / Math.PI;
  const angle = Math.min(s, 300) / radius;
  const on = Math.max(0, s - 300);
  return {
    easting_m: 680_000 + radius * Math.sin(angle),
    northing_m: 6_030_000 + radius * (1 - Math.cos(angle)) + on,
  };
}

const lengthOf = (line: ReturnType<typeof lineOfWalk>) =>
  line.slice(1).reduce((sum, place, i) => sum + distance_m(line[i]!, place), 0);

describe("a centreline made from a walk", () => {
  it.each([
    ["there", [500]],
    ["there and back", [500, 0]],
    ["from the middle to one end, back to the other", [250, 500, 0]],
  ])("that went %s is as long as the bank, and as near as its positions", (_, turns) => {
    const random = seededRandom(4);
    const walk: ReturnType<typeof bank>[] = [];
    let at = turns.length === 3 ? turns[0]! : 0;
    for (const end of turns) {
      const way = Math.sign(end - at);
      for (; way * (end - at) > 0; at += way) {
        const { easting_m, northing_m } = bank(at);
        walk.push({
          easting_m: easting_m + 0.3 * random.normal(),
          northing_m: northing_m + 0.3 * random.normal(),
        });
      }
    }
    const line = lineOfWalk(walk);
    // Ends err by one position of 0.3 m each, the bend is cut by less than 0.5 m.
    expectClose(lengthOf(line), 500, { absolute: 3 });
    expect(line.length).toBeLessThan(60);
    for (const vertex of line) {
      const away = Array.from({ length: 1001 }, (_, k) => distance_m(vertex, bank(k / 2)));
      expect(Math.min(...away)).toBeLessThan(1);
    }
  });

  it("is what there is of fewer than two positions", () => {
    expect(lineOfWalk([])).toEqual([]);
    expect(lineOfWalk([bank(0)])).toHaveLength(1);
  });
});
