import { describe, expect, it } from "vitest";
import { earthOfKind } from "../../../lib/depth/prior/earth-of-kind.js";
import { EarthSource } from "../../../lib/depth/prior/earth-source.js";
import { KINDS } from "../../../lib/depth/prior/kinds.js";
import { seededRandom } from "../../../lib/numerics/random.js";

describe("EarthSource", () => {
  it("gives what a kind's own random numbers make, of what is kept and beyond it, any time", () => {
    const seeds = seededRandom(8);
    const random = seededRandom(KINDS.map(() => seeds.uniform())[5]!);
    const plain = Array.from({ length: 1040 }, (_, number) => ({
      ...earthOfKind(5, random),
      number,
    }));
    const row = () => {
      const source = new EarthSource(8);
      return plain.map(() => source.next(5));
    };
    expect(row()).toEqual(plain);
    expect(row()).toEqual(plain);
    // Seeds since then, so that the first is made anew.
    for (const seed of [9, 10, 11]) new EarthSource(seed).next(5);
    expect(row()).toEqual(plain);
  });
});
