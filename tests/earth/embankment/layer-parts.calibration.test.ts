import { describe, it } from "vitest";
import { embankmentCoilFactor } from "../../../lib/earth/embankment/embankment-coil-factor.js";
import { layerParts, partsBelow } from "../../../lib/earth/embankment/layer-parts.js";
import table from "../../abroad/earth/bank-factors.json" with { type: "json" };
import { expectClose } from "../../support/expect-close.js";

const { shape } = table.banks.broad;
const pairs = table.pairs.map((pair) => ({
  ...pair,
  orientation: pair.orientation as "HCP" | "VCP" | "PRP",
}));
describe("parts of layers on a bank", () => {
  it("are those of embankmentCoilFactor at depths that are not tabled", () => {
    const tops = [0, 0.22, 0.7, 1.15, 2.1, 2.9, 5, 9];
    for (const pair of [pairs[2]!, pairs[5]!, pairs[8]!]) {
      const below = partsBelow(shape, [pair]);
      const { layers, total } = embankmentCoilFactor(shape, pair, tops);
      const { bank, level } = layerParts(below, tops);
      for (const [j, expected] of layers.entries()) {
        // Straight lines between tabled depths: of the whole response, 2 parts in a thousand.
        expectClose(bank[j]!, expected * level[j]!, { absolute: 2e-3 });
      }
      expectClose(below[0]!.bank(0) / below[0]!.level(0), total, { absolute: 1e-6 });
    }
  });

  it("make the response of banks of several materials, by finite elements", () => {
    for (const { shape, sections } of Object.values(table.banks)) {
      const below = partsBelow(shape, pairs);
      for (const section of sections) {
        if ("core" in section) continue;
        const { bank, level } = layerParts(below, section.top_m);
        const m = section.top_m.length;
        const sum = (parts: Float64Array, p: number) =>
          section.resistivity_ohm_m.reduce(
            (total, ohm_m, j) => total + parts[p * m + j]! / ohm_m,
            0,
          );
        // Of one material 0.3 %; with contrasts of 3 to 8 the charges at contacts, 2.5 %.
        const relative = section.name === "homogeneous" ? 3e-3 : 0.025;
        for (const p of pairs.keys()) {
          expectClose(sum(bank, p) / sum(level, p), section.factors[p]!, { relative });
        }
      }
    }
  });

  it("fade to those of level ground with depth", () => {
    for (const { bank, level } of partsBelow(shape, pairs.slice(0, 4))) {
      expectClose(bank(60) - bank(120), level(60) - level(120), { relative: 0.02 });
    }
  });
});
