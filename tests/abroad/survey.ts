import {
  type BankName,
  layeredSlopes,
  type SectionName,
  type Slopes,
  sectionSlopes,
} from "./earth/slopes.js";
import { fieldDay } from "./field/day.js";
import { type ErrorKind, type FieldErrors, makeErrors } from "./field/errors.js";
import { type Instrument, type InstrumentKind, makeInstrument } from "./field/instruments.js";
import { type MadeCampaign, walkedCampaign } from "./field/walked-campaign.js";
import type { Column, GroundChange } from "./ground/columns.js";
import { type GroundKind, makeGround } from "./ground/grounds.js";
import type { Ground } from "./ground/layered-ground.js";
import { type Grounds, startOf, type Truth, truthOf } from "./truth.js";

/** A survey to be made: the same plan gives the same survey. */
export interface SurveyPlan {
  readonly seed: number;
  readonly ground: GroundKind | Ground;
  readonly instrument: InstrumentKind | Instrument;
  /** Default "noise". */
  readonly errors?: ErrorKind | FieldErrors;
  /** Default 400 m; a ground that is given has its own. */
  readonly length_m?: number;
  /** Half a year apart; default 1. */
  readonly campaigns?: number;
  /** What changes on the crest between campaigns; default nothing. */
  readonly changes?: readonly GroundChange[];
  /** The bank's sides, which lower what is read on the crest; default level ground for ever. */
  readonly slopes?: SlopesPlan;
  /** True walks a second line, "toe", in ground of its own; default false. */
  readonly toe?: boolean;
}

export interface SlopesPlan {
  readonly bank: BankName;
  /** One cross-section of several materials all along, in place of the ground's layers. */
  readonly section?: SectionName;
}

export interface MadeSurvey {
  readonly length_m: number;
  readonly instrument: Instrument;
  readonly errors: FieldErrors;
  readonly campaigns: readonly MadeCampaign[];
  readonly truth: Truth;
  /** Null where the ground is level for ever. */
  readonly slopes: Slopes | null;
}

export function makeSurvey(plan: SurveyPlan): MadeSurvey {
  const { seed, campaigns = 1 } = plan;
  const { instrument: kind, errors: wrong = "noise" } = plan;
  const instrument = typeof kind === "string" ? makeInstrument(kind) : kind;
  const errors = typeof wrong === "string" ? makeErrors(wrong) : wrong;
  const slopes = slopesOf(plan, instrument);
  const grounds = groundsOf(plan, slopes?.column);
  const { length_m } = grounds.crest;
  const truth = truthOf(grounds, plan.changes ?? []);
  const made = Array.from({ length: campaigns }, (_, campaign) => {
    const lines = plan.toe ? ["crest", "toe"] : ["crest"];
    const start_s = startOf(campaign);
    const { walks } = instrument;
    const { checks } = errors;
    const day = fieldDay({ seed, start_s, length_m, walks: walks.length, lines, checks });
    return walkedCampaign({ seed, campaign, errors, instrument, day, truth, slopes, length_m });
  });
  return { length_m, instrument, errors, campaigns: made, truth, slopes };
}

function slopesOf({ slopes }: SurveyPlan, { height_m }: Instrument): Slopes | null {
  if (slopes === undefined) return null;
  const { bank, section } = slopes;
  return section ? sectionSlopes(bank, section, height_m) : layeredSlopes(bank, height_m);
}

/** A cross-section of its own lies under the whole crest. */
function groundsOf({ ground, seed, length_m = 400 }: SurveyPlan, section?: Column): Grounds {
  if (typeof ground !== "string") return { crest: ground, toe: ground };
  const crest = makeGround(ground, { seed, length_m });
  const toe = makeGround("gradational", { seed: seed + 0.5, length_m });
  if (section === undefined) return { crest, toe };
  const along = { kind: "section", boundaries_m: [], columnAt: () => section };
  return { crest: { ...along, length_m }, toe };
}
