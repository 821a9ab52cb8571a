import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import { riverRise } from "./evidence.js";
import { seepageFigures } from "./figures.js";
import type { SeepageOptions } from "./options.js";
import type { PerviousThreshold } from "./pervious-threshold.js";
import type { ScoredSeepage, SeepageInput } from "./score.js";
import type { Seepage, SeepageZone } from "./seepage.js";
import { seepageTable } from "./tables.js";

/** What `scoreSeepage` says of itself. */
export function seepageReport(
  { value, pervious }: ScoredSeepage,
  used: SeepageOptions,
  input: SeepageInput,
): StepReport<Seepage> {
  return {
    value,
    summary: summaryOf(value.zones),
    basis: [...BASIS, perviousBasis(pervious)],
    cautions: cautionsOf(input, pervious),
    figures: seepageFigures(value, used.bands),
    tables: [seepageTable(value)],
  };
}

function perviousBasis({ threshold_ohm_m, source }: PerviousThreshold): Basis {
  const statement = `Ground over ${threshold_ohm_m.toFixed(0)} ohm-m counts as pervious.`;
  return { statement, source };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Evidence is combined as a sum of log-odds of named pieces.",
    source: "Agterberg 1989; Bonham-Carter 1994",
  },
  {
    statement: "Landward exit gradient from blanket theory with declared ranges.",
    source: "USACE EM 1110-2-1913, Appendix B; TM 3-424 (1956)",
  },
  {
    statement: "The weights and the starting probability are the interpreter's judgement.",
    source: "common practice",
  },
];

function summaryOf(zones: readonly SeepageZone[]): string {
  const first = zones[0];
  if (first === undefined) return "No stretch gathers enough evidence to be named a seepage zone.";
  const count = `${zones.length} ${zones.length === 1 ? "stretch gathers" : "stretches gather"}`;
  return (
    `${count} evidence for a seepage path; the strongest lies from ${first.from_m.toFixed(0)} to ` +
    `${first.to_m.toFixed(0)} m (${first.band}, ${Math.round(100 * first.probability)} % under the ` +
    "declared weights)."
  );
}

function cautionsOf(
  { survey, blocks, changes }: SeepageInput,
  pervious: PerviousThreshold,
): readonly string[] {
  const texts = [
    "Seepage needs a pervious path, a head and a weak exit; resistivity alone proves none of them. " +
      "The zones say where to look first. Judgements on flood safety belong to the licensed " +
      "engineer responsible, under the local code.",
  ];
  if (!pervious.local) {
    texts.push(
      `Ground over ${pervious.threshold_ohm_m} ohm-m is taken as pervious (${pervious.source}). ` +
        "Ranges of soils overlap: check it by a borehole.",
    );
  }
  if (blocks === null) texts.push("No blocks were given: the ends of blocks are not weighed.");
  if (changes.length === 0) {
    texts.push("One campaign only: change with water level is unknown, not absent.");
  } else if (changes.every((change) => riverRise(survey, change) === null)) {
    texts.push("No river levels at the campaigns: change with water level is not weighed.");
  }
  if (survey.incidents.length === 0)
    texts.push("No incidents are recorded; none does not mean none happened.");
  if (survey.designWaterLevel_m === null) {
    texts.push("No design water level: no exit gradient is computed.");
  } else {
    texts.push(
      "Exit gradients come from declared ranges of blanket and aquifer, not from measurements " +
        "at the toe; they are for ranking, not for design.",
    );
  }
  return texts;
}
