import { expect, it } from "vitest";
import { sectionChangeReport } from "../../../lib/sections/change/account.js";
import { sectionChangeDefaults } from "../../../lib/sections/change/options.js";
import type { SectionChange } from "../../../lib/sections/change/section-change.js";

const none = new Float64Array(1);
const change = (runs: SectionChange["runs"]): SectionChange => ({
  ...{ line: "R4", earlier: "2031-10", later: "2032-03", runs, chainage_m: 545, offset_m: 0 },
  cells: {
    ...{ x_m: [0, 1], depth_m: [0, 1, 2], log10Ratio: none, log10Sd: none },
    ...{ p10: none, p90: none, probability: none, changed: new Int8Array(1) },
  },
  ...{ surface_m: none, electrodes: [{ x_m: 0, elevation_m: 6 }], bodies: [] },
  ...{ pairs: 100, unpaired: 0, noise: 1, rms: 1 },
});

it("says of a line across that one water level stands for both campaigns", () => {
  const water = { level_m: 1.6, from_m: 4, bed: [] };
  const cautions = (runs: SectionChange["runs"], given: object) =>
    sectionChangeReport(change(runs), { ...sectionChangeDefaults, ...given }).cautions?.join(" ");
  expect(cautions("across", { water })).toContain("taken at 1.60 m in both campaigns");
  expect(cautions("across", { water, includeWater: false })).toContain("no part of the model");
  expect(cautions("across", {})).toContain("no part of the model");
  expect(cautions("along", { water })).not.toContain("water beside");
});
