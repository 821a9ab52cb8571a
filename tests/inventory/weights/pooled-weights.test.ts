import { describe, expect, it } from "vitest";
import { pooledWeights } from "../../../lib/inventory/weights/pooled-weights.js";
import type { ReachEvidence } from "../../../lib/inventory/weights/windows.js";
import { seepageDefaults } from "../../../lib/seepage/options.js";
import { chance } from "../../abroad/random.js";

const CELLS = 200;

/** One piece that shows at incidents and one that shows anywhere; `slope` tells them apart. */
function watched(seed: number, incidents: number, hit = 0.8): ReachEvidence {
  const random = chance(seed, "watched");
  const chainage_m = Array.from({ length: CELLS }, (_, i) => 5 * i);
  const at = Array.from({ length: incidents }, (_, k) => 60 + 150 * k);
  const blanket = chainage_m.map(() => (random.uniform() < 0.02 ? 1 : 0));
  for (const x of at) if (random.uniform() < hit) blanket[x / 5] = 1;
  const core = chainage_m.map(() => (random.uniform() < 0.1 ? 1 : 0));
  return {
    reach: `R${seed}`,
    cells: {
      ...{ cell_m: 5, chainage_m },
      pieces: { "thin blanket at the toe": blanket, "resistive core": core },
    },
    incidents: at.map((x) => {
      return { date: "2029-02-03", chainage_m: x, kind: "sand boil", isWet: true };
    }),
  };
}

const many = Array.from({ length: 30 }, (_, k) => watched(k + 1, k % 3));

describe("weights over all reaches", () => {
  it("are the declared ones under the least number of incidents, and say so", () => {
    const weights = pooledWeights([watched(1, 3), watched(2, 4)]);
    expect(weights).toMatchObject({ from: "declared", incidents: 7, reachesWithIncidents: 2 });
    for (const [name, { present, absent }] of Object.entries(seepageDefaults.weights)) {
      const used = weights.common[name as keyof typeof weights.common];
      expect([used.present, used.absent, used.from]).toEqual([present, absent, "declared"]);
    }
  });

  it("part what shows at incidents from what shows anywhere", () => {
    const { from, incidents, common } = pooledWeights(many);
    expect([from, incidents]).toEqual(["incidents", 30]);
    const slope = (name: keyof typeof common) => common[name].present - common[name].absent;
    // Declared, the core counts for 3.6 and the blanket for 4.8.
    expect(slope("thin blanket at the toe")).toBeGreaterThan(2);
    expect(slope("resistive core")).toBeLessThan(1.5);
  });

  it("leave a piece that is known nowhere, and incidents themselves, as declared", () => {
    const { common } = pooledWeights(many);
    const { weights } = seepageDefaults;
    expect(common["section anomaly"]).toMatchObject(weights["section anomaly"]);
    expect(common["recorded incident"]).toMatchObject(weights["recorded incident"]);
  });

  it("say nothing on average where no incident is recorded: mean likelihood ratio one", () => {
    const { common } = pooledWeights(many);
    const { present, absent } = common["thin blanket at the toe"];
    // Away from incidents a window of six cells shows the piece with probability 1 − 0.98⁶; the share
    // of windows that do, some 700, has a standard error of 0.012.
    const shows = 1 - 0.98 ** 6;
    const mean = shows * Math.exp(present) + (1 - shows) * Math.exp(absent);
    expect(Math.abs(mean - 1)).toBeLessThan(3 * 0.012 * (Math.exp(present) - Math.exp(absent)));
  });

  it("differ between reaches by what their incidents say, drawn towards the common ones", () => {
    const contrary = Array.from({ length: 3 }, (_, k) => watched(100 + k, 6, 0));
    const { byReach, common } = pooledWeights([...many, ...contrary]);
    const slopeIn = (reach: string) => {
      const { present, absent } = byReach.get(reach)!["thin blanket at the toe"];
      return present - absent;
    };
    const all = common["thin blanket at the toe"];
    expect(slopeIn("R100")).toBeLessThan(all.present - all.absent);
    expect(slopeIn("R1")).toBeGreaterThan(slopeIn("R100"));
    expect(slopeIn("R100")).toBeGreaterThan(-1);
  });

  it("do not depend on the order of the reaches", () => {
    expect(pooledWeights(many.toReversed()).common).toEqual(pooledWeights(many).common);
  });
});
