// Clean ground in two makes, with boreholes that log what is there: clay under 400 m, sand beyond.
import type { Blocks } from "../../../lib/blocks/blocks.js";
import type { Borehole } from "../../../lib/survey/survey.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { smallSurvey } from "../../support/small-survey.js";

export const isSand = (chainage_m: number) => chainage_m >= 400;

export const slices = makeDepthSlices({
  truth: (x) => Math.log10(isSand(x) ? 80 : 20),
  texture: 0.03,
  sd: 0.03,
});

export const blocks: Blocks = {
  campaign: slices.campaign,
  objective: 0,
  penalty: 1,
  centreline: slices.centreline,
  blocks: [block("B1", 0, 400, "A"), block("B2", 400, 800, "B")],
};

export function block(id: string, from_m: number, to_m: number, name: string) {
  const width_m = from_m === 0 ? 0 : 10;
  return {
    ...{ id, from_m, to_m, class: name },
    fromInterval_m: [from_m - width_m, from_m + width_m] as const,
    toInterval_m: [to_m, to_m] as const,
    resistivity_ohm_m: [],
    stations: Math.round((to_m - from_m) / 2),
    masked_pct: 0,
    fromProbability: from_m === 0 ? 1 : 0.9,
  };
}

export function hole(chainage_m: number, sketch: Partial<Borehole> = {}): Borehole {
  const sand = isSand(chainage_m);
  return {
    borehole: `BH ${chainage_m}`,
    chainage_m,
    offset_m: 0,
    elevation_m: 6.2,
    depth_m: 7,
    strata: [{ top_m: 0, base_m: 7, soil: sand ? "siSa" : "siCl", description: "" }],
    laboratory: [0.5, 1.7, 3.5].map((depth_m) => ({
      depth_m,
      fines_pct: (sand ? 20 : 85) + depth_m,
      water_content_pct: sand ? 15 : 30,
      hydraulic_conductivity_m_per_s: null,
      resistivity_ohm_m: null,
    })),
    ...sketch,
  };
}

export const surveyWith = (boreholes: readonly Borehole[]) => smallSurvey({ boreholes });
