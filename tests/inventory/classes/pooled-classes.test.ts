import { describe, expect, it } from "vitest";
import { type PooledBlock, pooledClasses } from "../../../lib/inventory/classes/pooled-classes.js";
import { chance } from "../../abroad/random.js";
import { expectClose } from "../../support/expect-close.js";

const CENTRES = [
  [1.1, 1.2, 1.1],
  [1.6, 1.5, 1.9],
  [2.2, 2.1, 2.0],
] as const;

/** Blocks of three kinds of ground with errors of 0.05 to 0.2 decades. */
function drawn(count: number, kinds: readonly number[] = [0, 1, 2]): readonly PooledBlock[] {
  const random = chance(3, "pooled blocks");
  return Array.from({ length: count }, (_, i) => {
    const centre = CENTRES[kinds[i % kinds.length]!]!;
    const sd = random.between(0.05, 0.2);
    const levels = centre.map((log10, c) => ({
      ...{ top_m: [0, 1, 2][c]!, base_m: [1, 2, 4][c]!, sd, at25: true },
      log10: log10 + 0.08 * random.normal() + sd * random.normal(),
    }));
    return { reach: `R${Math.floor(i / 6)}`, block: `B${i % 6}`, levels };
  });
}

describe("classes over all reaches", () => {
  it("are the kinds of ground, by rising resistivity, each with its centre and spread", () => {
    const { classes, blocks } = pooledClasses(drawn(300));
    expect(classes.map(({ name }) => name)).toEqual(["G1", "G2", "G3"]);
    for (const [k, { centre, spread }] of classes.entries()) {
      // Three standard errors of a mean of 100 blocks with 0.15 decades each.
      for (const [c, value] of centre.entries())
        expectClose(value, CENTRES[k]![c]!, { absolute: 0.045 });
      // The ground's own spread, the blocks' errors taken out of it.
      for (const value of spread) expectClose(value, 0.08, { absolute: 0.04 });
    }
    expect(blocks).toHaveLength(300);
  });

  it("do not depend on the order of the blocks", () => {
    const blocks = drawn(60);
    expect(pooledClasses(blocks.toReversed())).toEqual(pooledClasses(blocks));
  });

  it("are one where the ground is of one kind", () => {
    expect(pooledClasses(drawn(120, [1])).classes).toHaveLength(1);
  });

  it("keep the names and depths that are known, and number what is new after them", () => {
    const known = pooledClasses(drawn(200, [1, 2]));
    expect(known.classes.map(({ name }) => name)).toEqual(["G1", "G2"]);
    const later = pooledClasses(drawn(300), { known });
    expect(later.classes.map(({ name }) => name)).toEqual(["G1", "G2", "G3"]);
    expectClose(later.classes[0]!.centre[0]!, CENTRES[1]![0], { absolute: 0.05 });
    expectClose(later.classes[2]!.centre[0]!, CENTRES[0]![0], { absolute: 0.05 });
  });

  it("leave out a block of which no depth is known, and take one that is known in part", () => {
    const [first, second, ...rest] = drawn(60);
    const { blocks, unclassed } = pooledClasses([
      { ...first!, levels: [] },
      { ...second!, levels: second!.levels.slice(0, 1) },
      ...rest,
    ]);
    expect(unclassed).toBe(1);
    expect(blocks).toHaveLength(59);
  });

  it("are none of no blocks", () => {
    expect(pooledClasses([])).toMatchObject({ classes: [], blocks: [], unclassed: 0 });
  });
});
