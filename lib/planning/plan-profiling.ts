import type { ConductiveEarth } from "../earth/coil-response.js";
import { listText } from "../step/list-text.js";
import type { Caution } from "../step/step-account.js";
import { StepResult } from "../step/step-result.js";
import { frequencyText } from "../survey/channel-words.js";
import type { Instrument } from "../survey/survey.js";
import { seen } from "./detection-probability.js";
import { planFigures, planTables, probabilityText, targetText } from "./figures.js";
import { planDefaults, refuseBadPlan } from "./options.js";
import type { Effort, PlanOptions, PlanVariant, ProfilingPlan, ProfilingQuestion } from "./plan.js";
import { frequenciesToLeaveOut, plannedChannels, plannedFrequencies } from "./plan-channels.js";
import { type PlanGround, planGround } from "./plan-scene.js";

/**
 * Before the field: whether a walk with this instrument will see a target, which frequencies add
 * nothing, and what a kilometre takes.
 *
 * The target's mark is the difference of the whole layered responses with and without it, faded at
 * its ends by the coils' footprint. Against it stand the noise of the readings, the natural variation
 * of the ground, alike between neighbouring readings and between channels, and the level of each
 * channel, which is free. The probability is that of the best linear test for this mark at the
 * false-alarm rate asked for: Φ((δ − z)/s), with δ the test's mean and s its spread over the target in
 * deviations without one, averaged over where the target falls between two readings.
 *
 * @param instrument - as the survey folder describes it: channels and the height of the coils.
 * @param earth - the ground expected: conductivities (S/m, above 0) and thicknesses (m).
 * @param question - `target`: a lens (length, top, base in m; conductivity ratio) or a boundary
 *   (the ground beyond it); the rest is `PlanOptions`, what is left out is `planDefaults`.
 * @returns the probability, channels and frequencies by what they add, variants of spacing and
 *   height, and the effort. Nothing may be missing: NaN is a fault.
 * @throws StepError with every fault.
 * Limits: the shape and depth of the target are taken as known to the test, so this is the most that
 *   any reading of the data can see; the target goes on across the line; no metal, no drift.
 * Source: Kay 1998 (detection); McNeill 1980 and reciprocity (footprint); walking speed: common
 *   practice.
 * @example
 * planProfiling(
 *   { height_m: 0.9, channels: [{ field: "q", kind: "quadrature", unit: "ppm",
 *     frequency_Hz: 10000, separation_m: 1.8, orientation: "HCP" }] },
 *   { conductivity_S_per_m: [0.02], thickness_m: [] },
 *   { target: { kind: "lens", length_m: 20, top_m: 1, base_m: 3, conductivityRatio: 0.3 } },
 * ).value.effort.readings_per_km // 1000
 */
export function planProfiling(
  instrument: Instrument,
  earth: ConductiveEarth,
  question: ProfilingQuestion,
): StepResult<ProfilingPlan> {
  const { target, ...options } = question ?? {};
  const used: PlanOptions = { ...planDefaults, ...options };
  refuseBadPlan(instrument, earth, { question, used });
  const ground = planGround(instrument, earth, { target: target!, used });
  const value = planOf(instrument, ground, used);
  return new StepResult({
    step: "planProfiling",
    summary: summaryOf(value, used),
    value,
    used: { ...used, height_m: ground.height_m, target },
    basis: BASIS,
    cautions: cautionsOf(value, used),
    accounting: null,
    figures: planFigures(instrument, ground, { value, used }),
    tables: planTables(value),
  });
}

const BASIS = [
  {
    statement:
      "Probability of the best linear test for a mark of known shape in Gaussian noise, levels free.",
    source: "Kay 1998, Fundamentals of Statistical Signal Processing: Detection Theory",
  },
  {
    statement:
      "Whole quasi-static response of a layered earth; ends of the target faded by the low-induction " +
      "footprint of the coils.",
    source: "Ward & Hohmann 1988; McNeill 1980, Technical Note 6",
  },
  {
    statement: "Walking at about 1 m/s, and half as much time again for checks and turns.",
    source: "common practice",
  },
];

function planOf(instrument: Instrument, ground: PlanGround, used: PlanOptions): ProfilingPlan {
  const all = seen(ground, used);
  const { channels, independentLevels } = plannedChannels(instrument, ground, used);
  const { height_m, target } = ground;
  return {
    target,
    height_m,
    ...all,
    falseAlarms_per_km: (1000 * used.falseAlarm) / markLength(ground),
    channels,
    frequencies: plannedFrequencies(instrument, ground, used),
    leaveOut_Hz: frequenciesToLeaveOut(instrument, ground, used),
    independentLevels,
    bySpacing: [0.5, 1, 2, 4].map((factor) => {
      const spacing_m = factor * used.spacing_m;
      return variant(instrument, ground, { ...used, spacing_m });
    }),
    byHeight: heightsAbout(height_m).map((height) => {
      const other = { ...used, height_m: height };
      const at = planGround(instrument, ground.earth, { target, used: other });
      return variant(instrument, at, other);
    }),
    effort: effortOf(instrument, used),
  };
}

function variant(instrument: Instrument, ground: PlanGround, used: PlanOptions): PlanVariant {
  return {
    spacing_m: used.spacing_m,
    height_m: ground.height_m,
    probability: seen(ground, used).probability,
    effort: effortOf(instrument, used),
  };
}

/** A few heights from the ground to twice the plan's, the plan's among them. */
export function heightsAbout(height_m: number): number[] {
  if (height_m === 0) return [0, 0.25, 0.5, 1];
  return [0.25, 0.5, 1, 1.5, 2].map((factor) => factor * height_m);
}

/** Work of a kilometre. */
export function effortOf({ channels }: Instrument, used: PlanOptions): Effort {
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

function summaryOf(value: ProfilingPlan, used: PlanOptions): string {
  const { effort } = value;
  const without = value.leaveOut_Hz.map(frequencyText);
  return (
    `A walk at ${value.height_m.toFixed(2)} m with a reading every ${used.spacing_m} m sees ` +
    `${targetText(value.target)} with a probability ${probabilityText(value.probability)} ` +
    `(false alarms at ${used.falseAlarm} of the places without one). ` +
    (without.length > 0 ? `It would see it as well without ${listText(without)}. ` : "") +
    `A kilometre takes ${effort.readings_per_km.toFixed(0)} readings and ` +
    `${effort.hours_per_km.toFixed(1)} hours.`
  );
}

function cautionsOf(value: ProfilingPlan, used: PlanOptions): Caution[] {
  const texts = [
    "The test knows the shape and depth of the target and the noise is Gaussian: a person, or a " +
      "chain that must find the target first, sees less.",
    "The target goes on across the line as far as the coils see. One narrower than about the coil " +
      "separation and its depth together shows less.",
    `Readings that metal disturbs are not in it, nor drift. The ground is taken to vary by ` +
      `${(100 * used.groundSd).toFixed(0)} % over ${used.groundLength_m} m of its own accord: an ` +
      `assumption until a first line has been walked.`,
  ];
  if (value.target.kind === "lens" && value.target.length_m < 2 * used.spacing_m) {
    texts.push("The target is shorter than two spacings: single readings decide, so walk closer.");
  }
  if (value.probability < 0.5) {
    texts.push("The target will more likely be missed than seen: do not promise it.");
  }
  return texts.map((text) => ({ step: "planProfiling", text }));
}
