// Classes and weights over all reaches against each reach by itself, on made banks that nothing was
// chosen on. INVENTORY_REACHES asks for more reaches, INVENTORY_SEED for others.
import { describe, expect, it } from "vitest";
import { classAgreement, madeInventory, weightsTold } from "./judge-inventory.js";
import { SOILS } from "./made-blocks.js";

const COUNT = Number(process.env.INVENTORY_REACHES ?? 60);
const SEED = Number(process.env.INVENTORY_SEED ?? 90_001);

const rounds = [0, 1, 2].map((k) => madeInventory(COUNT, SEED + 1000 * k));

describe("60 made reaches, three times", () => {
  it("have classes that agree with their soils where each reach's own letters hardly do", () => {
    for (const reaches of rounds) {
      const { pooled, alone, aloneKnowing } = classAgreement(reaches, SOILS.length);
      const said = `pooled ${pooled.toFixed(2)}, alone ${alone.toFixed(2)}, alone with every reach's letters matched by the truth ${aloneKnowing.toFixed(2)}`;
      // A letter means another soil in the next reach: kappa about 0.3. On 400 blocks the standard
      // error of a kappa is 0.03: half of the scale between them is no accident.
      expect(pooled - alone, said).toBeGreaterThan(0.3);
      expect(pooled, said).toBeGreaterThan(0.6);
    }
  });

  it("tell weak cells better by weights from all incidents than by the declared ones", () => {
    // The declared weights are off in the country that is made; each reach has too few incidents to
    // find that out alone. Cells of one bank resemble each other: the three rounds are the replicates.
    const gains = rounds.map((reaches) => {
      const { pooled, declared, weights } = weightsTold(reaches);
      expect(weights.from).toBe("incidents");
      return pooled - declared;
    });
    for (const gain of gains) expect(gain, gains.join(", ")).toBeGreaterThan(0);
  });

  it("keep their gain on reaches without any incident on record", () => {
    const [recorded = [], others = []] = rounds;
    const unseen = others.map((one) => ({
      ...one,
      record: { ...one.record, reach: `other ${one.record.reach}` },
    }));
    const { pooled, declared } = weightsTold(recorded, unseen);
    expect(pooled).toBeGreaterThan(declared);
  });
});
