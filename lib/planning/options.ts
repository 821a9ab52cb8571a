import { checkNumber, NOT_NEGATIVE, POSITIVE, type Rule } from "../earth/check.js";
import { type ConductiveEarth, coilFaults, earthFaults } from "../earth/coil-response.js";
import { type Fault, quoted, StepError } from "../step/step-error.js";
import { unknownOptions } from "../step/unknown-options.js";
import type { Instrument } from "../survey/survey.js";
import type { PlanOptions, PlanTarget, ProfilingQuestion } from "./plan.js";

export const planDefaults: PlanOptions = Object.freeze({
  spacing_m: 1,
  walks: 1,
  height_m: null,
  quadratureFloor_ppm: 10,
  inphaseFloor_ppm: 30,
  proportionalNoise: 0.02,
  noise: Object.freeze([]),
  groundSd: 0.15,
  groundLength_m: 20,
  groundDepth_m: 1,
  window_m: 50,
  falseAlarm: 0.01,
  addsNothing: 0.02,
  speed_m_per_s: 1,
  overheadShare: 0.5,
});

/** Throws a StepError with every fault of what planProfiling was given. */
export function refuseBadPlan(
  instrument: Instrument,
  earth: ConductiveEarth,
  { question, used }: { readonly question: ProfilingQuestion; readonly used: PlanOptions },
): void {
  const height_m = used.height_m ?? instrument?.height_m;
  const faults = [
    ...instrumentFaults(instrument, height_m),
    ...earthFaults(earth),
    ...conductingFaults(earth, "earth"),
    ...targetFaults(question?.target),
    ...optionFaults(used),
    ...unknownOptions(used, { ...planDefaults, target: null }),
  ];
  if (faults.length > 0) throw new StepError("planProfiling", faults);
}

function instrumentFaults(instrument: Instrument, height_m: number): Fault[] {
  const channels = instrument?.channels;
  if (!Array.isArray(channels) || channels.length === 0) {
    const expected = "an instrument with one channel at least";
    return [{ code: "empty", path: "instrument.channels", expected, received: quoted(channels) }];
  }
  return channels.flatMap((channel, i) => [
    ...coilFaults({ ...channel, height_m }, `instrument.channels[${i}]`),
    ...kindFaults(channel.kind, `instrument.channels[${i}].kind`),
  ]);
}

function kindFaults(kind: unknown, path: string): Fault[] {
  if (kind === "quadrature" || kind === "inphase" || kind === "conductivity") return [];
  const expected = '"quadrature", "inphase" or "conductivity"';
  return [{ code: "kind", path, expected, received: quoted(kind) }];
}

/** Variations of ground are shares of its conductivity: an insulator has none. */
function conductingFaults(earth: ConductiveEarth, path: string): Fault[] {
  const at = Array.from(earth?.conductivity_S_per_m ?? []).indexOf(0);
  if (at < 0) return [];
  const expected = "above 0 in a plan";
  return [
    { code: "insulator", path: `${path}.conductivity_S_per_m[${at}]`, expected, received: "0" },
  ];
}

function targetFaults(target: PlanTarget | undefined): Fault[] {
  if (target?.kind === "boundary") {
    const inside = [...earthFaults(target.beyond), ...conductingFaults(target.beyond, "earth")];
    return inside.map((fault) => ({
      ...fault,
      path: fault.path.replace(/^earth/, "question.target.beyond"),
    }));
  }
  if (target?.kind !== "lens") {
    const expected = 'a target of kind "lens" or "boundary"';
    return [{ code: "target", path: "question.target", expected, received: quoted(target) }];
  }
  const faults: Fault[] = [];
  const { top_m } = target;
  checkNumber(faults, "question.target.length_m", [target.length_m, POSITIVE]);
  checkNumber(faults, "question.target.top_m", [top_m, NOT_NEGATIVE]);
  checkNumber(faults, "question.target.base_m", [
    target.base_m,
    rule("a finite number above the top", (v) => v > top_m && v < Infinity),
  ]);
  checkNumber(faults, "question.target.conductivityRatio", [
    target.conductivityRatio,
    rule("a finite number above 0 and not 1", (v) => v > 0 && v < Infinity && v !== 1),
  ]);
  return faults;
}

const rule = (expected: string, holds: (value: number) => boolean): Rule => ({
  code: "option-range",
  expected,
  holds,
});

const BETWEEN = rule("between 0 and 1", (value) => value > 0 && value < 1);

const RULES: { readonly [name in keyof PlanOptions]?: Rule } = {
  spacing_m: POSITIVE,
  walks: rule("a whole number of 1 or more", (v) => Number.isInteger(v) && v >= 1),
  quadratureFloor_ppm: POSITIVE,
  inphaseFloor_ppm: POSITIVE,
  proportionalNoise: rule("0 or above and below 1", (v) => v >= 0 && v < 1),
  groundSd: NOT_NEGATIVE,
  groundLength_m: POSITIVE,
  groundDepth_m: POSITIVE,
  window_m: POSITIVE,
  falseAlarm: rule("above 0 and below 0.5", (v) => v > 0 && v < 0.5),
  addsNothing: BETWEEN,
  speed_m_per_s: POSITIVE,
  overheadShare: NOT_NEGATIVE,
};

function optionFaults(used: PlanOptions): Fault[] {
  const faults: Fault[] = [];
  for (const [name, one] of Object.entries(RULES)) {
    checkNumber(faults, `question.${name}`, [used[name as keyof PlanOptions], one]);
  }
  for (const [i, entry] of used.noise.entries()) {
    checkNumber(faults, `question.noise[${i}].floor`, [entry.floor, POSITIVE]);
    checkNumber(faults, `question.noise[${i}].share_pct`, [entry.share_pct, NOT_NEGATIVE]);
  }
  return faults;
}
