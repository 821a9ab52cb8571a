import type { Instrument } from "../survey/survey.js";
import { partWorth } from "./channels/part-worth.js";
import { plannedChannels } from "./channels/planned-channels.js";
import { plannedFrequencies } from "./channels/planned-frequencies.js";
import { detectionProbability } from "./detection/detection-probability.js";
import type { PlanOptions } from "./options.js";
import type { Effort, PlanInput, PlanVariant, ProfilingPlan } from "./plan.js";
import { type PlanGround, planGround } from "./scene/plan-ground.js";

/** The plan, and the ground that its figures are made from. */
export interface PlannedWork {
  readonly value: ProfilingPlan;
  readonly ground: PlanGround;
}

/** Detection probability, what each channel adds, variants and effort. */
export function profilingPlan(input: PlanInput, used: PlanOptions): PlannedWork {
  const ground = planGround(input, used);
  const worth = partWorth(ground, used);
  const { target, height_m } = ground;
  const value = {
    target,
    height_m,
    ...detectionProbability(ground, used),
    falseAlarms_per_km: (1000 * used.falseAlarm) / markLength(ground),
    ...plannedChannels(ground, used, worth),
    ...plannedFrequencies(ground, used, worth),
    bySpacing: [0.5, 1, 2, 4].map((factor) =>
      variant(ground, { ...used, spacing_m: factor * used.spacing_m }),
    ),
    byHeight: heightsAbout(height_m).map((height) => {
      const other = { ...used, height_m: height };
      return variant(planGround(input, other), other);
    }),
    effort: effortOf(input.instrument, used),
  };
  return { value, ground };
}

function variant(ground: PlanGround, used: PlanOptions): PlanVariant {
  return {
    spacing_m: used.spacing_m,
    height_m: ground.height_m,
    probability: detectionProbability(ground, used).probability,
    effort: effortOf(ground.instrument, used),
  };
}

/** A few heights from the ground to twice the plan's, the plan's among them. */
function heightsAbout(height_m: number): readonly number[] {
  if (height_m === 0) return [0, 0.25, 0.5, 1];
  return [0.25, 0.5, 1, 1.5, 2].map((factor) => factor * height_m);
}

/** Length over which the mark is more than a tenth of its full height, m, of the widest channel. */
function markLength({ target, below }: PlanGround): number {
  const length = target.kind === "lens" ? target.length_m : 0;
  const reach = below.map((share) => {
    let x = 0;
    while (share(x) < 0.9 && x < 1000) x += 0.1;
    return 2 * x;
  });
  return length + Math.max(...reach);
}

/** Work of a kilometre. */
function effortOf({ channels }: Instrument, used: PlanOptions): Effort {
  const { spacing_m, walks, speed_m_per_s, overheadShare } = used;
  const stations_per_km = 1000 / spacing_m;
  return {
    stations_per_km,
    readings_per_km: stations_per_km * walks,
    values_per_km: stations_per_km * walks * channels.length,
    hours_per_km: (walks * (1000 / speed_m_per_s) * (1 + overheadShare)) / 3600,
    secondsPerReading: spacing_m / speed_m_per_s,
  };
}
