import { layeredSlopes } from "../earth/slopes.js";
import { makeInstrument } from "../field/instruments.js";
import { GROUND_KINDS, makeGround } from "../ground/grounds.js";
import type { Campaign, Pass, Survey } from "../lib.js";
import { chance } from "../random.js";
import { makeSurvey } from "../survey.js";
import { startOf } from "../truth.js";
import { crossSectionOf } from "../written/geometry.js";
import { campaignsOf } from "../written/in-memory.js";
import { type Foundation, foundationOf } from "./foundation.js";
import { drilled } from "./holes.js";
import { lineOver } from "./line-over.js";
import { toeGround, weakGround } from "./weak-ground.js";
import { type WeakPlan, weakPlan } from "./weak-places.js";

/** A survey of a bank whose weak places are known. */
export interface WeakSurvey {
  readonly survey: Survey;
  readonly plan: WeakPlan;
  readonly foundation: Foundation;
  /** What was measured beside the crest walk. */
  readonly has: { readonly toe: boolean; readonly holes: boolean; readonly section: boolean };
}

export interface WeakSurveyPlan {
  readonly seed: number;
  /** Default 400 m. */
  readonly length_m?: number;
}

const INSTRUMENTS = [
  "five frequencies HCP, VCP",
  "three separations HCP+PRP",
  "frequencies and separations",
] as const;
const RIVER_M = [1.5, 3.7];
const DESIGN_M = 5.6;

/** A bank and all that is known of it without walking. */
export function weakBank({ seed, length_m = 400 }: WeakSurveyPlan) {
  const random = chance(seed, "survey");
  const instrument = makeInstrument(INSTRUMENTS[Math.floor(3 * random.uniform())]!);
  const kind = GROUND_KINDS[Math.floor(GROUND_KINDS.length * random.uniform())]!;
  const has = {
    toe: random.uniform() < 0.33,
    holes: random.uniform() < 0.5,
    section: random.uniform() < 0.5,
  };
  const plan = weakPlan(seed, length_m);
  const slopes = layeredSlopes("broad", instrument.height_m);
  const { foundationElevation_m: toe_m, ...shape } = crossSectionOf(slopes.shape);
  const foundation = foundationOf(seed, { length_m, weak: plan.weak, toe_m });
  const { height_m } = slopes.shape;
  const host = makeGround(kind, { seed, length_m });
  const ground = weakGround(host, plan.weak, { foundation, height_m });
  const known = {
    ...NAMES,
    ...{ length_m, inputs: [] },
    crossSectionAt: (x: number) => ({ ...shape, foundationElevation_m: foundation.ground_m(x) }),
    fieldNotes: plan.structures_m.map((from_m, row) => noteOf(from_m, row)),
    waterLevels: RIVER_M.map((level_m, c) => {
      return { time_s: startOf(c), point: "river", level_m, chainage_m: null };
    }),
    boreholes: has.holes ? drilled(seed, { ground, foundation, length_m, height_m }) : [],
    incidents: plan.incidents.map((one) => ({ ...one, date: "2029-02-03", text: "" })),
  };
  const at_m = sectionAt(random.uniform(), plan, length_m);
  return { plan, foundation, has, known, ground, instrument, at_m, shape: slopes.shape };
}

/** Other ground, another instrument and other extras by seed; errors of the field, two campaigns. */
export function weakSurvey(of: WeakSurveyPlan): WeakSurvey {
  const { seed } = of;
  const { plan, foundation, has, known, ground, instrument, at_m, shape } = weakBank(of);
  const { length_m } = known;
  const common = { seed, instrument, errors: "field", campaigns: 2 } as const;
  const made = makeSurvey({ ...common, ground, changes: plan.changes, slopes: { bank: "broad" } });
  const campaigns = withMetal(campaignsOf(made), plan.metal_m);
  const survey: Survey = {
    ...known,
    ...{ campaigns, centreline: campaigns[0]!.centreline },
    soilTemperature: campaigns.flatMap((one) => one.soilTemperature),
    resistivityLines: has.section ? [lineOver(ground, { at_m, seed, shape })] : [],
  };
  if (!has.toe) return { survey, plan, foundation, has };
  const landward = toeGround(foundation, length_m);
  const toe = campaignsOf(makeSurvey({ ...common, seed: seed + 0.5, ground: landward }));
  const walkedLine = { line: "crest", offset_m: 0 };
  const other = { line: "toe", offset_m: -13 };
  const otherLines = [{ ...other, survey: { ...survey, campaigns: toe, walkedLine: other } }];
  return { survey: { ...survey, walkedLine, otherLines }, plan, foundation, has };
}

const NAMES = {
  ...{ name: "sedgeholm-weak", title: "Sedgeholm Bank", embankment: "Sedgeholm Bank" },
  ...{ waterway: "River Wend", waterside: "left" as const, designWaterLevel_m: DESIGN_M },
};

/** Over a weak place where there is one, in three of five. */
function sectionAt(chanceOf: number, { weak }: WeakPlan, length_m: number): number {
  const [first] = weak;
  const over = first !== undefined && chanceOf < 0.6;
  const middle = over ? (first.from_m + first.to_m) / 2 : 40 + chanceOf * (length_m - 80);
  return Math.max(0, Math.min(length_m - 48, middle - 24));
}

function noteOf(from_m: number, row: number): Survey["fieldNotes"][number] {
  const where = { from_m, to_m: from_m, offset_m: null, time_s: null, campaign: null };
  return { row, kind: "structure", object: "pipe", text: "", ...where };
}

/** Swings of a few metres in every channel beside small metal. */
function withMetal(campaigns: readonly Campaign[], metal_m: readonly number[]) {
  return campaigns.map((campaign) => ({
    ...campaign,
    passes: campaign.passes.map((pass) => metal_m.reduce(swung, pass)),
  }));
}

function swung(pass: Pass, at_m: number): Pass {
  const values = pass.values.map((column, c) => {
    const size = pass.instrument.channels[c]!.kind === "inphase" ? 900 : 400;
    return column.map((value, i) => {
      const off = ((pass.chainage_m[i]! - at_m) / 1.6) ** 2;
      return value + size * (1 - off) * Math.exp(-off / 2);
    });
  });
  return { ...pass, values };
}
