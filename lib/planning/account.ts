import type { StepReport } from "../step/define-step.js";
import { listText } from "../step/list-text.js";
import type { Basis } from "../step/step-account.js";
import { frequencyText } from "../survey/channel-words.js";
import { planFigures } from "./figures.js";
import type { PlanOptions } from "./options.js";
import type { ProfilingPlan } from "./plan.js";
import type { PlannedWork } from "./profiling-plan.js";
import { planTables } from "./tables.js";
import { probabilityText, targetText } from "./words.js";

/** The account of `planProfiling`. */
export function planReport(work: PlannedWork, used: PlanOptions): StepReport<ProfilingPlan> {
  const { value } = work;
  return {
    value,
    summary: summaryOf(value, used),
    basis: BASIS,
    cautions: cautionsOf(value, used),
    figures: planFigures(work, used),
    tables: planTables(value),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Probability of the best linear test for a mark of known shape in Gaussian noise, levels " +
      "free.",
    source: "Kay 1998, Fundamentals of Statistical Signal Processing: Detection Theory",
  },
  {
    statement:
      "Whole quasi-static response of a layered earth; ends of the target faded by the " +
      "low-induction footprint of the coils.",
    source: "Ward & Hohmann 1988; McNeill 1980, Technical Note 6",
  },
  {
    statement: "Walking at about 1 m/s, and half as much time again for checks and turns.",
    source: "common practice",
  },
];

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

function cautionsOf(value: ProfilingPlan, used: PlanOptions): readonly string[] {
  const texts = [
    "The test knows the shape and depth of the target and the noise is Gaussian: a person, or a " +
      "chain that must find the target first, sees less.",
    "The target goes on across the line as far as the coils see. One narrower than about the " +
      "coil separation and its depth together shows less.",
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
  return texts;
}
