import type { StepReport } from "../../step/define-step.js";
import type { Basis } from "../../step/step-account.js";
import { ELECTRODE_DANGER } from "../danger.js";
import { planLineFigures } from "./figures.js";
import type { LinePlan } from "./line-plan.js";
import type { PlanLineOptions } from "./options.js";
import type { PlannedLine } from "./planned-line.js";
import { planLineTables } from "./tables.js";
import { lineTargetText, recoveredText } from "./words.js";

/** The account of `planLine`. */
export function planLineReport(made: PlannedLine, used: PlanLineOptions): StepReport<LinePlan> {
  const { plan } = made;
  return {
    value: plan,
    summary: summaryOf(plan),
    basis: BASIS,
    cautions: cautionsOf(plan, used),
    figures: planLineFigures(made),
    tables: planLineTables(plan),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Sections of noisy readings from finer cells and another grid, by the inversion that the " +
      "line's readings will go through.",
    source: "invertSection and sectionResponse of this library",
  },
  { statement: "80 % interval of a share of trials.", source: "Wilson 1927, JASA 22, 209" },
  {
    statement:
      "Spacing and length of the line by the target's size and depth; minutes by electrodes and " +
      "readings; dipoles up to three spacings long and six of their lengths apart.",
    source: "common practice",
  },
];

function summaryOf(plan: LinePlan): string {
  const { best, target, length_m } = plan;
  const [low, high] = best.interval;
  return (
    `${recoveredText(plan)}: ${lineTargetText(target)}; probability ${low.toFixed(2)} to ` +
    `${high.toFixed(2)} (80 %). The line is ${length_m} m long; ${best.readings} readings take ` +
    `about ${best.minutes.toFixed(0)} minutes.`
  );
}

function cautionsOf(plan: LinePlan, used: PlanLineOptions): readonly string[] {
  const { best, target, spacing_m, length_m } = plan;
  const texts = [
    ELECTRODE_DANGER,
    "The target goes on across the line, the ground is level, and who looks knows where the " +
      "target is: one that is narrow across the line, or has to be found first, shows less.",
    `The ground is taken to vary by ${(100 * used.groundSd).toFixed(0)} % of its own accord, and ` +
      `readings by ${(100 * used.noise).toFixed(0)} %: assumptions until a first line is measured.`,
  ];
  if (best.probability < 0.5) {
    texts.push("The target will more likely be missed than recovered: do not promise it.");
  }
  if (length_m < target.length_m + 2 * target.base_m) {
    texts.push("The line hardly reaches beyond the target: lay more electrodes or a second line.");
  }
  if (spacing_m > target.base_m - target.top_m) {
    texts.push("The target is thinner than the spacing: lay electrodes closer.");
  }
  return texts;
}
