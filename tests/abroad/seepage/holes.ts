import type { Ground } from "../ground/layered-ground.js";
import type { Survey } from "../lib.js";
import { chance } from "../random.js";
import type { Foundation } from "./foundation.js";

interface HolesPlan {
  readonly ground: Ground;
  readonly foundation: Foundation;
  readonly length_m: number;
  readonly height_m: number;
}

/** Three holes from the crest into the sand under the blanket, with permeabilities measured. */
export function drilled(seed: number, plan: HolesPlan): Survey["boreholes"] {
  const random = chance(seed, "holes");
  return [1, 2, 3].map((k) => {
    const chainage_m = plan.length_m * ((k - 0.5) / 3 + random.between(-0.1, 0.1));
    const sand_m = plan.height_m + plan.foundation.blanket_m(chainage_m);
    const { top_m, log10 } = plan.ground.columnAt(chainage_m);
    const depth_m = sand_m + plan.foundation.aquifer_m(chainage_m) + 0.5;
    const base = (j: number) => top_m[j + 1] ?? depth_m - 0.5;
    const strata = top_m.map((top, j) => {
      const soil = log10[j]! > SANDY ? "Sa" : "siCl";
      return { top_m: top, base_m: base(j), soil, description: "" };
    });
    const floor = { top_m: depth_m - 0.5, base_m: depth_m, soil: "Cl", description: "" };
    const scatter = () => 10 ** (0.3 * random.normal());
    const tested = (depth: number, hydraulic_conductivity_m_per_s: number) => ({
      ...{ depth_m: depth, fines_pct: null, water_content_pct: null, resistivity_ohm_m: null },
      hydraulic_conductivity_m_per_s,
    });
    return {
      ...{ borehole: `BH${k}`, chainage_m, offset_m: 0, elevation_m: 6.2, depth_m },
      strata: [...strata, floor],
      laboratory: [
        tested(sand_m - 0.2, plan.foundation.blanket_m_per_s * scatter()),
        tested(sand_m + 0.5, plan.foundation.aquifer_m_per_s * scatter()),
      ],
    };
  });
}

/** log10(ohm-m) from which a layer is logged as sand. */
const SANDY = 1.8;
