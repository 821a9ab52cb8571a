import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import { disturbedZonesText } from "./disturbed-zones.js";
import { riverRise } from "./evidence/at-high-water.js";
import { seepageFigures } from "./figures/figures.js";
import type { SeepageOptions } from "./options.js";
import type { ScoredSeepage, SeepageInput } from "./score.js";
import type { Seepage } from "./seepage.js";
import { seepageTables } from "./tables.js";
import { missedText } from "./words.js";

/** What `scoreSeepage` says of itself. */
export function seepageReport(
  made: ScoredSeepage,
  used: SeepageOptions,
  input: SeepageInput,
): StepReport<Seepage> {
  const { value } = made;
  return {
    value,
    summary: summaryOf(value),
    basis: [...BASIS, weightsBasis(value), perviousBasis(made)],
    cautions: [...WARNINGS, ...cautionsOf(input, made)],
    figures: seepageFigures(value, input.survey, { used }),
    tables: seepageTables(value),
  };
}

function perviousBasis({ pervious, ground }: ScoredSeepage): Basis {
  const { threshold_ohm_m, source } = pervious;
  const at = ground.at25 ? "at 25 °C" : "at field temperature";
  return {
    statement: `Ground over ${threshold_ohm_m.toFixed(0)} ohm-m ${at} counts as pervious.`,
    source,
  };
}

function weightsBasis({ weights }: Seepage): Basis {
  const learned = Object.values(weights).filter(({ from }) => from === "incidents").length;
  return learned > 0
    ? {
        statement: `${learned} weights are drawn towards what the recorded incidents show.`,
        source: "Bonham-Carter 1994, chapter 9",
      }
    : {
        statement:
          "The weights are declared. By default they are those that seeded banks gave when all pieces " +
          "were weighed at once, so that pieces resting on the same readings share one weight.",
        source: "own simulation (tests/calibration.md); no survey's incidents went into them",
      };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Evidence is combined as a sum of log-odds of named pieces; what is unknown adds nothing.",
    source: "Agterberg 1989; Bonham-Carter 1994",
  },
  {
    statement:
      "Landward exit gradient by blanket theory over seeded draws; thicknesses by kriging between what " +
      "holes and lines show, everything else from laboratory values or declared ranges.",
    source: "TM 3-424 (1956); USACE EM 1110-2-1913, Appendix B; Chilès & Delfiner 2012",
  },
  {
    statement: "Critical head of backward erosion, and creep ratios, along the width of the base.",
    source: "Sellmeijer et al. 2011; Lane 1935; Bligh 1910 (from memory)",
  },
  {
    statement: "Shares of the gradient's spread: first-order Sobol indices from the draws.",
    source: "Sobol 1993; Plischke, Borgonovo & Smith 2013",
  },
];

function summaryOf(value: Seepage): string {
  const [first] = value.zones;
  if (first === undefined) return `Nothing stands out here. ${missedText(value)}`;
  const { length } = value.zones;
  const [best, worst] = first.rankRange;
  const stays = best === worst ? "it stays first" : `it ranks ${best} to ${worst}`;
  const firm = length === 1 ? "" : `; ${stays} within their ranges`;
  return (
    `${length} ${length === 1 ? "stretch gathers" : "stretches gather"} evidence for a seepage path; ` +
    `the strongest lies from ${first.from_m.toFixed(0)} to ${first.to_m.toFixed(0)} m ` +
    `(${first.band}, ${Math.round(100 * first.probability)} % under the weights${firm}). ` +
    missedText(value)
  );
}

/** With every result, whatever it says. */
const WARNINGS: readonly string[] = [
  "This is a screening: seepage needs a pervious path, a head and a weak exit, and resistivity alone " +
    "proves none of them. The zones say where to look first. Judgements on flood safety belong to the " +
    "licensed engineer responsible, under the local code.",
  "Before anybody drills or digs at a zone: clear the place of buried services, and do not drill " +
    "through a blanket without a plan to seal the hole.",
];

function cautionsOf(input: SeepageInput, { value, pervious, ground }: ScoredSeepage): string[] {
  const texts: string[] = [];
  if (!pervious.local) {
    texts.push(
      `Ground over ${pervious.threshold_ohm_m} ohm-m is taken as pervious (${pervious.source}). ` +
        "Ranges of soils overlap: check it by a borehole.",
    );
  }
  if (!ground.at25 && ground.slices.length > 0) {
    texts.push(
      "No soil temperature was read near the walk: resistivities are those of that day's ground, and " +
        "the same ground counts as pervious sooner in winter.",
    );
  }
  const disturbed = disturbedZonesText(value.zones, input.slices);
  if (disturbed !== null) texts.push(disturbed);
  return [...texts, ...lackOf(input), ...gradientCautions(value, input)];
}

function lackOf({ survey, blocks, changes, sections }: SeepageInput): readonly string[] {
  const texts: string[] = [];
  if (blocks === null) texts.push("No blocks were given: the ends of blocks are not weighed.");
  if (sections.length === 0) texts.push("No resistivity section speaks in the evidence.");
  if (changes.length === 0) {
    texts.push("One campaign only: change with water level is unknown, not absent.");
  } else if (changes.every((change) => riverRise(survey, change) === null)) {
    texts.push("No river levels at the campaigns: change with water level is not weighed.");
  }
  if (survey.incidents.length === 0)
    texts.push("No incidents are recorded; none does not mean none happened.");
  return texts;
}

function gradientCautions({ stretches }: Seepage, { survey }: SeepageInput): readonly string[] {
  if (survey.designWaterLevel_m === null) {
    return ["No design water level: no exit gradient is computed."];
  }
  const told = stretches.filter(({ exitGradient }) => exitGradient !== null).length;
  const where =
    told === stretches.length
      ? "at every stretch"
      : told === 0
        ? "at no stretch: holes at the toe or a line walked along it would"
        : `at ${told} of ${stretches.length} stretches`;
  return [
    `Data tell exit gradients apart ${where}. Gradients are for ranking, not for design: the ground ` +
      "landward of the toe, its conductivities and how its blanket ends are declared ranges.",
  ];
}
