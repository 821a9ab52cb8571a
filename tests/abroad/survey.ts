import { fieldDay } from "./field/day.js";
import { type ErrorKind, type FieldErrors, makeErrors } from "./field/errors.js";
import { type Instrument, type InstrumentKind, makeInstrument } from "./field/instruments.js";
import { type MadeCampaign, walkedCampaign } from "./field/walked-campaign.js";
import type { GroundChange } from "./ground/columns.js";
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
  /** True walks a second line, "toe", in ground of its own; default false. */
  readonly toe?: boolean;
}

export interface MadeSurvey {
  readonly length_m: number;
  readonly instrument: Instrument;
  readonly errors: FieldErrors;
  readonly campaigns: readonly MadeCampaign[];
  readonly truth: Truth;
}

export function makeSurvey(plan: SurveyPlan): MadeSurvey {
  const { seed, campaigns = 1 } = plan;
  const { instrument: kind, errors: wrong = "noise" } = plan;
  const instrument = typeof kind === "string" ? makeInstrument(kind) : kind;
  const errors = typeof wrong === "string" ? makeErrors(wrong) : wrong;
  const grounds = groundsOf(plan);
  const { length_m } = grounds.crest;
  const truth = truthOf(grounds, plan.changes ?? []);
  const made = Array.from({ length: campaigns }, (_, campaign) => {
    const lines = plan.toe ? ["crest", "toe"] : ["crest"];
    const start_s = startOf(campaign);
    const { walks } = instrument;
    const { checks } = errors;
    const day = fieldDay({ seed, start_s, length_m, walks: walks.length, lines, checks });
    return walkedCampaign({ seed, campaign, errors, instrument, day, truth, length_m });
  });
  return { length_m, instrument, errors, campaigns: made, truth };
}

function groundsOf({ ground, seed, length_m = 400 }: SurveyPlan): Grounds {
  if (typeof ground !== "string") return { crest: ground, toe: ground };
  const crest = makeGround(ground, { seed, length_m });
  return { crest, toe: makeGround("gradational", { seed: seed + 0.5, length_m }) };
}
