import {
  compareCampaigns,
  correctDrift,
  type DepthSlices,
  estimateDepthSlices,
  invertSection,
  maskInterference,
  type Seepage,
  type SeepageEvidence,
  type SeepageOptions,
  scoreSeepage,
  segmentBlocks,
  shapeUnder,
} from "../lib.js";
import { type WeakSurvey, type WeakSurveyPlan, weakSurvey } from "./weak-survey.js";

/** A bank of known weak places, and everything that scoring takes, from its readings. */
export interface WorkedBank extends WeakSurvey {
  readonly seed: number;
  readonly evidence: SeepageEvidence;
}

/** Stations twice as far apart as by default, for speed. */
const STATIONS = { spacing_m: 4 };

/** Every step from the readings to the evidence, with its defaults. */
export async function workedBank(plan: WeakSurveyPlan): Promise<WorkedBank> {
  const made = weakSurvey(plan);
  const { survey } = made;
  const [first, second] = await slicesOf(survey.campaigns);
  const otherLines = [];
  for (const { survey: own, ...line } of survey.otherLines ?? []) {
    const [slices = null] = await slicesOf(own.campaigns.slice(0, 1));
    otherLines.push({ ...line, slices });
  }
  const sections = [];
  for (const line of survey.resistivityLines) {
    sections.push(await invertSection(line, { shape: shapeUnder(line, survey) }));
  }
  const blocks = segmentBlocks(first!);
  const changes = [compareCampaigns(first!, second!)];
  const evidence = { survey, slices: first!, blocks, changes, sections, otherLines };
  return { ...made, seed: plan.seed, evidence };
}

async function slicesOf(campaigns: WeakSurvey["survey"]["campaigns"]): Promise<DepthSlices[]> {
  const all: DepthSlices[] = [];
  for (const campaign of campaigns) {
    const masked = maskInterference(correctDrift(campaign));
    const shared = (all[0]?.slices.length ?? 0) > 0 ? { slices: all[0]!.slices } : {};
    all.push((await estimateDepthSlices(masked, { ...STATIONS, ...shared })).value);
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
