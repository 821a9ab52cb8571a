import {
  type Blocks,
  type Changes,
  compareCampaigns,
  correctDrift,
  type DepthSlices,
  estimateDepthSlices,
  invertSection,
  maskInterference,
  type Section,
  type Seepage,
  type SeepageEvidence,
  type SeepageOptions,
  type Survey,
  scoreSeepage,
  segmentBlocks,
  shapeUnder,
} from "../lib.js";
import { type WeakSurvey, type WeakSurveyPlan, weakBank, weakSurvey } from "./weak-survey.js";

type LineSlices = NonNullable<SeepageEvidence["otherLines"]>[number];

/** What the steps make of a bank's readings, and what scoring asks of the walks: plain data. */
export interface EstimatedBank {
  readonly walked: Pick<Survey, "campaigns" | "centreline" | "soilTemperature" | "walkedLine">;
  readonly slices: DepthSlices;
  readonly blocks: Blocks;
  readonly changes: readonly Changes[];
  readonly sections: readonly Section[];
  readonly otherLines: readonly LineSlices[];
}

/** A bank of known weak places, and everything that scoring takes, from its readings. */
export interface WorkedBank extends Omit<WeakSurvey, "survey"> {
  readonly seed: number;
  readonly evidence: SeepageEvidence & { readonly survey: Survey };
}

/** Stations twice as far apart as by default, for speed. */
const SPACING_M = 4;

/** Every step from the readings to the evidence, with its defaults. */
export async function workedBank(plan: WeakSurveyPlan): Promise<WorkedBank> {
  return withEvidence(plan, await estimatedBank(plan));
}

export async function estimatedBank(
  plan: WeakSurveyPlan,
  spacing_m = SPACING_M,
): Promise<EstimatedBank> {
  const { survey } = weakSurvey(plan);
  const [first, second] = await slicesOf(survey.campaigns, spacing_m);
  const otherLines: LineSlices[] = [];
  for (const { survey: own, ...line } of survey.otherLines ?? []) {
    const [slices = null] = await slicesOf(own.campaigns.slice(0, 1), spacing_m);
    otherLines.push({ ...line, slices });
  }
  const sections = [];
  for (const line of survey.resistivityLines) {
    sections.push((await invertSection(line, { shape: shapeUnder(line, survey) })).value);
  }
  const blocks = segmentBlocks(first!).value;
  const changes = [compareCampaigns(first!, second!).value];
  return { walked: walkedOf(survey), slices: first!, blocks, changes, sections, otherLines };
}

/** Times and places of the walks, without their readings. */
function walkedOf({ campaigns, centreline, soilTemperature, walkedLine }: Survey) {
  const bare = campaigns.map((campaign) => ({
    ...campaign,
    passes: campaign.passes.map((pass) => ({ ...pass, values: [], setAside: [] })),
  }));
  return { campaigns: bare, centreline, soilTemperature, ...(walkedLine && { walkedLine }) };
}

export function withEvidence(plan: WeakSurveyPlan, of: EstimatedBank): WorkedBank {
  const { plan: weak, foundation, has, known } = weakBank(plan);
  const { walked, ...estimates } = of;
  const survey: Survey = { ...known, ...walked, resistivityLines: [] };
  return { plan: weak, foundation, has, seed: plan.seed, evidence: { survey, ...estimates } };
}

async function slicesOf(campaigns: Survey["campaigns"], spacing_m: number): Promise<DepthSlices[]> {
  const all: DepthSlices[] = [];
  for (const campaign of campaigns) {
    const masked = maskInterference(correctDrift(campaign));
    const shared = (all[0]?.slices.length ?? 0) > 0 ? { slices: all[0]!.slices } : {};
    all.push((await estimateDepthSlices(masked, { spacing_m, ...shared })).value);
  }
  return all;
}

/** What the score says of one bank, cell by cell, beside the truth. */
export interface JudgedBank {
  readonly seed: number;
  readonly seepage: Seepage;
  /** n cells: 1 in a weak place, 0 away from all, NaN within 12 m of one's ends. */
  readonly truth: Float64Array;
  /** Zones that lie on no weak place. */
  readonly falseZones: number;
  readonly isSound: boolean;
}

const MARGIN_M = 12;

export function judged(bank: WorkedBank, options: Partial<SeepageOptions> = {}): JudgedBank {
  const { weak } = bank.plan;
  const seepage = scoreSeepage(bank.evidence, options).value;
  const within = (x: number, margin_m: number) =>
    weak.some(({ from_m, to_m }) => x >= from_m - margin_m && x <= to_m + margin_m);
  const truth = seepage.chainage_m.map((x) => {
    if (within(x, 0)) return 1;
    return within(x, MARGIN_M) ? Number.NaN : 0;
  });
  const falseZones = seepage.zones.filter(
    (zone) =>
      !weak.some(
        ({ from_m, to_m }) => zone.from_m <= to_m + MARGIN_M && zone.to_m >= from_m - MARGIN_M,
      ),
  ).length;
  return { seed: bank.seed, seepage, truth, falseZones, isSound: weak.length === 0 };
}
