import { groundOf } from "../soils/ground.js";
import { priorKernel } from "../soils/hyperparameters.js";
import { choiceOf, type Reweighing, type Settled, settledBy, type Weighing } from "./gain.js";
import { byFallingGain, greedyChoice } from "./greedy.js";
import type { SitingInput } from "./input.js";
import type { SitingOptions } from "./options.js";
import { avoidedStretches, type Site } from "./places.js";
import type { AvoidedStretch } from "./plan.js";
import { existingSite, feasibleSites } from "./sites.js";
import { soilCells } from "./soil-cells.js";
import type { Target } from "./targets.js";

/** Stations nearer than this along the bank are beside a hole, m. */
const NEAR_M = 6;

/**
 * Every place where a hole may stand, what it is weighed by, and those that are worth the budget.
 */
export interface WeighedSites {
  readonly sites: readonly Site[];
  readonly weighing: Weighing;
  readonly drilled: readonly Site[];
  readonly start: (factors?: Reweighing) => Settled;
  /** Indices into `sites`, in the order in which each adds most. */
  readonly picked: readonly number[];
  readonly avoided: readonly AvoidedStretch[];
}

export function weighedSites(
  input: SitingInput,
  targets: readonly Target[],
  used: SitingOptions,
): WeighedSites {
  const avoided = avoidedStretches(input, used.clear_m);
  const ground = groundOf(input.slices, input.blocks?.blocks ?? [], NEAR_M);
  const sites = feasibleSites({ input, ground, targets, avoided, used });
  const kernel = input.soils?.kernel ?? priorKernel;
  const cells = soilCells(ground, kernel, { step_m: used.step_m, weight: used.weights.soil });
  const weighing: Weighing = { targets, cells };
  const drilled = input.survey.boreholes.flatMap((hole) => existingSite(input.survey, hole));
  const start = settledBy(sites, weighing, drilled);
  const choice = choiceOf(sites, () => start());
  const picked = byFallingGain(choice, greedyChoice(choice, used).picked);
  return { sites, weighing, drilled, start, picked, avoided };
}
