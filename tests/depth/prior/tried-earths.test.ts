import { describe, expect, it } from "vitest";
import { MOST_BLOCKS, MOST_LAYERS } from "../../../lib/depth/prior/earth-ensemble.js";
import { EarthSource } from "../../../lib/depth/prior/earth-source.js";
import { KIND_SHARES } from "../../../lib/depth/prior/kinds.js";
import { inOrder, triedEarths } from "../../../lib/depth/prior/tried-earths.js";
import { expectClose } from "../../support/expect-close.js";

const COUNT = 4000;
const plan = (seed: number, count = COUNT) => ({
  count,
  shares: KIND_SHARES,
  reachable: () => true,
  source: new EarthSource(seed),
});
const { earths, tried } = triedEarths(plan(3));

describe("triedEarths", () => {
  it("gives layers of positive thickness and resistivities of 1 to 4000 ohm-m", () => {
    const odd = earths.filter(({ lnConductivity, thickness_m, block }) => {
      const isWhole =
        lnConductivity.length <= MOST_LAYERS &&
        thickness_m.length === lnConductivity.length - 1 &&
        block.length === lnConductivity.length &&
        Math.max(...block) < MOST_BLOCKS;
      const ohm_m = Array.from(lnConductivity, (ln) => Math.exp(-ln));
      const isOfGround = ohm_m.every((one) => one > 0.99 && one < 4001);
      return !(isWhole && isOfGround && thickness_m.every((t) => t > 0.04));
    });
    expect(odd).toEqual([]);
  });

  it("tries each kind by its share", () => {
    for (const [kind, share] of KIND_SHARES.entries()) {
      // Evenly, so far nearer than by lot: within three trials.
      expectClose(tried[kind]!, share * COUNT, { absolute: 3 });
    }
  });

  it("holds contrasts of over 30 between neighbouring layers, and even ground", () => {
    const contrasts = earths.map(({ lnConductivity: ln }) =>
      Math.max(0, ...ln.slice(1).map((value, j) => Math.abs(value - ln[j]!))),
    );
    const share = (test: (contrast: number) => boolean) =>
      contrasts.filter(test).length / contrasts.length;
    expect(share((contrast) => contrast > Math.log(30))).toBeGreaterThan(0.03);
    expect(share((contrast) => contrast < Math.log(1.5))).toBeGreaterThan(0.01);
  });

  it("counts what it tried and left out", () => {
    const few = triedEarths({ ...plan(4, 300), reachable: ({ kind }) => kind % 2 === 0 });
    expect(few.earths).toHaveLength(300);
    expect(few.earths.every(({ kind }) => kind % 2 === 0)).toBe(true);
    expect(few.tried.some((count, kind) => kind % 2 === 1 && count > 0)).toBe(true);
  });

  it("gives up where nothing is within reach", () => {
    expect(triedEarths({ ...plan(5, 20), reachable: () => false }).earths).toEqual([]);
  });

  it("gives the same earths for the same seed", () => {
    expect(triedEarths(plan(3, 50)).earths).toEqual(earths.slice(0, 50));
  });

  it("numbers the earths of a kind alike, whatever kinds are asked for between", () => {
    const [one, other] = [new EarthSource(8), new EarthSource(8)];
    const alone = [one.next(5), one.next(5)];
    const among = [other.next(5), other.next(70), other.next(5)];
    expect([among[0], among[2]]).toEqual(alone);
    expect(alone.map(({ number }) => number)).toEqual([0, 1]);
  });
});

describe("inOrder", () => {
  it("sets crusts over clay at one end, and clay over rock at the other", () => {
    const ordered = inOrder(earths.slice(0, 200));
    const topOver = ({ lnConductivity: ln }: (typeof earths)[number]) => ln[0]! - ln.at(-1)!;
    const mean = (some: typeof earths) =>
      some.reduce((sum, earth) => sum + topOver(earth), 0) / some.length;
    expect(mean(ordered.slice(0, 20))).toBeLessThan(mean(ordered.slice(-20)) - 2);
  });
});
