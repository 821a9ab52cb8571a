import { describe, expect, it } from "vitest";
import { type ReachZone, rankedZones } from "../../../lib/inventory/ranking/ranked-zones.js";
import { pooledWeights } from "../../../lib/inventory/weights/pooled-weights.js";
import type { EvidenceName } from "../../../lib/seepage/seepage.js";
import { expectClose } from "../../support/expect-close.js";
import { madeInventory } from "../made/judge-inventory.js";

function zoneOf(reach: string, shown: Partial<Record<EvidenceName, number | null>>): ReachZone {
  const evidence = Object.entries(shown).map(([name, value]) => {
    return { name: name as EvidenceName, value, weight: 0, statement: "", source: "" };
  });
  return { reach, zone: { rank: 1, from_m: 0, to_m: 40, score: 0, evidence } };
}

const declared = pooledWeights([]);

describe("zones of all reaches by one measure", () => {
  it("score the sum of the weights, what is not known left out", () => {
    const [only] = rankedZones(
      [zoneOf("R1", { "resistive core": 1, "thin blanket at the toe": null })],
      declared,
    );
    // ln(0.03 / 0.97) and the declared weight 2.8 of a core.
    expectClose(only!.score, Math.log(0.03 / 0.97) + 2.8, { absolute: 1e-12 });
    expect(only!.contributions).toEqual([{ name: "resistive core", value: 2.8 }]);
  });

  it("rank alike zones by reach, and say which ranks are told apart", () => {
    const strong = zoneOf("R3", { "resistive core": 1, "thin blanket at the toe": 1 });
    const [first, second, third] = rankedZones(
      [zoneOf("R2", { "resistive core": 0 }), zoneOf("R1", { "resistive core": 0 }), strong],
      declared,
    );
    expect([first!.reach, second!.reach, third!.reach]).toEqual(["R3", "R1", "R2"]);
    expect(first!.rankRange).toEqual([1, 1]);
    expect(first!.amongFirstTen).toBe(1);
  });

  it("give the same under any order, and wider ranges where weights are less known", () => {
    const made = madeInventory(30, 41);
    const zones = made.flatMap(({ record: { reach, findings } }) =>
      findings.seepage.map((zone) => ({ reach, zone })),
    );
    const ranked = rankedZones(zones, declared);
    expect(rankedZones(zones.toReversed(), declared)).toEqual(ranked);
    const width = (all: typeof ranked) =>
      all.reduce((sum, { rankRange: [low, high] }) => sum + high - low, 0);
    const halved = Object.fromEntries(
      Object.entries(declared.common).map(([name, one]) => [name, { ...one, sd: one.sd / 4 }]),
    ) as typeof declared.common;
    const surer = rankedZones(zones, { ...declared, common: halved });
    expect(width(surer)).toBeLessThan(width(ranked));
  });
});
