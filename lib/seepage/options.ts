import { customOption, groupOption } from "../step/options/kinds.js";
import { numberOption } from "../step/options/number.js";
import type { Option, OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import { blanketRanges } from "./exit-gradient.js";
import type { EvidenceName } from "./seepage.js";

/** Weights of one piece of evidence, log-odds (natural): where it is present, and where absent. */
export interface EvidenceWeight {
  readonly present: number;
  readonly absent: number;
}

/** Probabilities from which a zone is moderate, and from which it is high. */
export interface Bands {
  readonly moderate: number;
  readonly high: number;
}

const weight = (present: number, absent: number, meaning: string): Option<EvidenceWeight> =>
  groupOption(
    {
      present: numberOption({ default: present, meaning: "Where it is present, log-odds." }),
      absent: numberOption({ default: absent, meaning: "Where it is absent, log-odds." }),
    },
    { meaning },
  );

const evidenceWeights: Readonly<Record<EvidenceName, Option<EvidenceWeight>>> = {
  "pervious layer": weight(1.6, -0.6, "More resistive ground within reach."),
  "thin blanket": weight(0.9, -0.2, "A conductive cover over more resistive ground."),
  "wetter at high water": weight(1.4, -0.3, "A fall of resistivity with a rise of the water."),
  "recorded incident": weight(2, 0, "An incident on record nearby."),
  structure: weight(0.8, 0, "A structure through the bank."),
  "change of make": weight(0.4, 0, "The end of a block."),
  "contrast at the toe": weight(0.9, -0.3, "More resistive ground along the landside toe."),
};

const reach = (value: number, what: string) =>
  numberOption({
    default: value,
    above: 0,
    unit: "m",
    meaning: `Reach of ${what} along the bank.`,
  });

const probability = (value: number, meaning: string) =>
  numberOption({ default: value, above: 0, below: 1, meaning });

export const seepageOptions = {
  weights: groupOption(evidenceWeights, {
    meaning: "Log-odds of each piece of evidence: the interpreter's own judgement.",
  }),
  startingProbability: probability(0.05, "Probability of a path at a cell before any evidence."),
  cell_m: numberOption({
    default: 5,
    above: 0,
    unit: "m",
    meaning: "Length of a cell along chainage.",
  }),
  zoneFrom: probability(0.2, "Cells at this probability or above form zones."),
  bands: customOption<Bands>({
    default: Object.freeze({ moderate: 0.4, high: 0.7 }),
    rule: "moderate and high with 0 < moderate < high < 1",
    holds: (bands) => {
      const { moderate, high } = (bands ?? {}) as Bands;
      return moderate > 0 && high > moderate && high < 1;
    },
    meaning: "Probabilities from which a zone is moderate, and from which it is high; below, low.",
  }),
  joinWithin_m: numberOption({
    default: 15,
    from: 0,
    unit: "m",
    meaning: "Zones nearer than this are one.",
  }),
  minLength_m: numberOption({
    default: 10,
    from: 0,
    unit: "m",
    meaning: "Shorter zones are dropped.",
  }),
  reach_m: groupOption(
    {
      incident: reach(15, "incidents"),
      structure: reach(5, "structures"),
      boundary: reach(5, "the ends of blocks"),
    },
    { unit: "m", meaning: "How far evidence at a point reaches along the bank." },
  ),
  pervious_ohm_m: numberOption({
    default: 60,
    above: 0,
    unit: "ohm-m",
    meaning: "Resistivity taken for pervious ground where boreholes cannot tell.",
  }),
  blanketRatio: numberOption({
    default: 1.5,
    above: 0,
    meaning: "Contrast of resistivity that counts as a blanket over pervious ground.",
  }),
  blanket: blanketRanges,
  seed: numberOption({
    default: 1,
    whole: true,
    meaning: "Seed of the draws for the exit gradient.",
  }),
};

/** Options of `scoreSeepage`, resolved. */
export interface SeepageOptions extends OptionsOf<typeof seepageOptions> {}

export const seepageDefaults: SeepageOptions = defaultsOf(seepageOptions);
