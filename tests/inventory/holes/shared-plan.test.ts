import { describe, expect, it } from "vitest";
import {
  type ClassGround,
  type OfferedHole,
  sharedPlan,
} from "../../../lib/inventory/holes/shared-plan.js";
import { expectClose } from "../../support/expect-close.js";

function hole(reach: string, soil: number, more: Partial<OfferedHole> = {}): OfferedHole {
  return {
    ...{ reach, chainage_m: 100, offset_m: 0, depth_m: 5, place: "crest", class: "G1" },
    ...{ purpose: "", reason: "", adds_m: { soil }, at: [3, 54] as const, seepageFactor: 1 },
    ...more,
  };
}

const ground: readonly ClassGround[] = [
  { name: "G1", length_m: 800, drilled: 0 },
  { name: "G2", length_m: 400, drilled: 0 },
];

/** What a set settles, counted without the plan: own gains, and n/(n + 1) of a class's worth. */
function settled(holes: readonly OfferedHole[], all: readonly ClassGround[]): number {
  const own = holes.reduce((sum, one) => sum + (one.adds_m.soil ?? 0), 0);
  return all.reduce((sum, { name, length_m, drilled }) => {
    const n = drilled + holes.filter((one) => one.class === name).length;
    return sum + 0.25 * length_m * (n / (n + 1) - drilled / (drilled + 1));
  }, own);
}

describe("holes under one budget for all reaches", () => {
  it("add up to what the set settles", () => {
    const offered = [hole("R1", 40), hole("R2", 30), hole("R3", 20, { class: "G2" })];
    const plan = sharedPlan(offered, ground, { holes: 3, metres: null });
    const sum = plan.reduce((total, { adds_m }) => total + adds_m, 0);
    expectClose(sum, settled(offered, ground), { absolute: 1e-9 });
    expect(plan.map(({ priority }) => priority)).toEqual([1, 2, 3]);
  });

  it("are within 1 − 1/e of the best set of as many, by trying all", () => {
    const offered = [55, 50, 20, 45, 12, 38].map((soil, k) =>
      hole(`R${k}`, soil, { class: k % 2 === 0 ? "G1" : "G2" }),
    );
    const plan = sharedPlan(offered, ground, { holes: 3, metres: null });
    let best = 0;
    for (let set = 0; set < 2 ** offered.length; set++) {
      const chosen = offered.filter((_, i) => (set >> i) & 1);
      if (chosen.length === 3) best = Math.max(best, settled(chosen, ground));
    }
    const found = settled(
      plan.map((one) => one.hole),
      ground,
    );
    expect(found).toBeGreaterThanOrEqual((1 - 1 / Math.E) * best);
  });

  it("go to a class that nobody drilled before a class that somebody did", () => {
    const drilled = [
      { name: "G1", length_m: 400, drilled: 3 },
      { name: "G2", length_m: 400, drilled: 0 },
    ];
    const offered = [hole("R1", 20), hole("R2", 15, { class: "G2" })];
    const [first] = sharedPlan(offered, drilled, { holes: 1, metres: null });
    expect(first!.hole.reach).toBe("R2");
  });

  it("weigh a seepage zone by the weights of all reaches", () => {
    const zone = { adds_m: { seepage: 30 }, class: null };
    const offered = [hole("R1", 0, zone), hole("R2", 0, { ...zone, seepageFactor: 2 })];
    const [first] = sharedPlan(offered, ground, { holes: 1, metres: null });
    expect(first!.hole.reach).toBe("R2");
    expectClose(first!.adds_m, 60, { absolute: 1e-12 });
  });

  it("keep within metres", () => {
    const offered = [hole("R1", 40, { depth_m: 8 }), hole("R2", 35), hole("R3", 30)];
    const plan = sharedPlan(offered, [], { holes: null, metres: 10 });
    expect(plan.map((one) => one.hole.reach)).toEqual(["R2", "R3"]);
  });

  it("are none where none is offered", () => {
    expect(sharedPlan([], ground, { holes: 5, metres: null })).toEqual([]);
  });
});
