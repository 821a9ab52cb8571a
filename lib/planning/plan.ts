import type { ConductiveEarth } from "../earth/coil-response.js";
import type { Channel, Instrument } from "../survey/survey.js";
import type { PlanOptions } from "./options.js";

/** A body in the ground, as wide across the bank as the instrument sees. */
export interface LensTarget {
  readonly kind: "lens";
  /** Along the line, m, over 0. */
  readonly length_m: number;
  /** Depths of its top and base below the surface, m, 0 ≤ top < base. */
  readonly top_m: number;
  readonly base_m: number;
  /** Its conductivity over that of the layers it lies in, over 0 and not 1. */
  readonly conductivityRatio: number;
}

/** A place where one ground ends and another begins. */
export interface BoundaryTarget {
  readonly kind: "boundary";
  /** The ground on the far side; on this side it is the plan's earth. */
  readonly beyond: ConductiveEarth;
}

export type PlanTarget = LensTarget | BoundaryTarget;

export type ProfilingQuestion = { readonly target: PlanTarget } & Partial<PlanOptions>;

/** What a plan is made for. */
export interface PlanInput {
  readonly instrument: Instrument;
  readonly earth: ConductiveEarth;
  readonly target: PlanTarget;
}

/** What a walk with this instrument will see of the target, and what it takes. */
export interface ProfilingPlan {
  readonly target: PlanTarget;
  readonly height_m: number;
  /** Mean of the best test with the target there, in standard deviations without it. */
  readonly detectability: number;
  /** Probability that the test sees the target, at the false-alarm rate asked for. */
  readonly probability: number;
  /** False alarms a kilometre, if the test is made at places the length of a mark apart. */
  readonly falseAlarms_per_km: number;
  readonly channels: readonly PlannedChannel[];
  readonly frequencies: readonly PlannedFrequency[];
  /** Frequencies, Hz, that can be left out together at the loss allowed, least useful first. */
  readonly leaveOut_Hz: readonly number[];
  /** Independent levels of the ground by depth that the channels hold at one station. */
  readonly independentLevels: number;
  /** Probability and effort at other spacings, and at other heights. */
  readonly bySpacing: readonly PlanVariant[];
  readonly byHeight: readonly PlanVariant[];
  readonly effort: Effort;
}

export interface PlannedChannel extends Omit<Channel, "unit">, PlannedPart {
  /** Largest mark of the target, noise of one reading, and natural variation of the ground, ppm. */
  readonly mark_ppm: number;
  readonly noise_ppm: number;
  readonly ground_ppm: number;
  /** Share of its information about the ground by depth that the others hold as well. */
  readonly shared: number;
}

/** A frequency with all its channels. */
export interface PlannedFrequency extends PlannedPart {
  readonly frequency_Hz: number;
}

/** What a channel, or all channels of a frequency, add to the others. */
export interface PlannedPart {
  /** Probability to detect the target with it alone. */
  readonly alone: number;
  /** Share of the squared detectability that is lost without it. */
  readonly lost: number;
  readonly addsNothing: boolean;
}

export interface PlanVariant {
  readonly spacing_m: number;
  readonly height_m: number;
  readonly probability: number;
  readonly effort: Effort;
}

export interface Effort {
  /**
   * Places with a reading, readings (rows of the file) and values (rows × channels), a kilometre.
   */
  readonly stations_per_km: number;
  readonly readings_per_km: number;
  readonly values_per_km: number;
  readonly hours_per_km: number;
  /** Time between readings that the spacing asks for, s. */
  readonly secondsPerReading: number;
}
