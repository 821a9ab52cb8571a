import { customOption, groupOption } from "../step/options/kinds.js";
import { numberOption } from "../step/options/number.js";
import type { Option, OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import { hydraulicOptions } from "./hydraulics/options.js";
import type { EvidenceName, EvidenceWeight } from "./seepage.js";

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

/**
 * Measured on 152 seeded banks, all pieces at once (`bench/seepage.ts`); from one part of the banks
 * to another they differ by about 1, that at the toe by 2.
 */
const evidenceWeights: Readonly<Record<EvidenceName, Option<EvidenceWeight>>> = {
  "pervious under cover": weight(1.7, -0.7, "More resistive ground under less resistive ground."),
  "resistive core": weight(2.8, -0.8, "Ground that stands out from the line about it."),
  "section anomaly": weight(0.9, -0.5, "A resistive body in a section."),
  "thin blanket at the toe": weight(4, -0.8, "A blanket thinner than elsewhere at the toe."),
  "wetter at high water": weight(3.1, -0.6, "A fall of resistivity with a rise of the water."),
  "recorded incident": weight(2.8, 0, "An incident on record nearby."),
  "crossing or boundary": weight(0.7, -0.1, "A structure through the bank, or the end of a block."),
};

const probability = (value: number, meaning: string) =>
  numberOption({ default: value, above: 0, below: 1, meaning });

const reach = (value: number, what: string) =>
  numberOption({
    default: value,
    above: 0,
    unit: "m",
    meaning: `Reach of ${what} along the bank.`,
  });

export const seepageOptions = {
  weights: groupOption(evidenceWeights, {
    meaning: "Log-odds of each piece of evidence, beside the others.",
  }),
  weightRange: probability(
    0.5,
    "How far each weight may be off, as a share of it: ranks and bands are tried under weights drawn " +
      "from that range.",
  ),
  leastIncidents: numberOption({
    default: 10,
    from: 5,
    whole: true,
    meaning: "Incidents of water from which weights are drawn towards what these show.",
  }),
  startingProbability: probability(0.03, "Probability of a path at a cell before any evidence."),
  cell_m: numberOption({
    default: 5,
    above: 0,
    unit: "m",
    meaning: "Length of a cell along chainage.",
  }),
  zoneFrom: probability(0.5, "Cells at this probability or above form zones."),
  bands: customOption<Bands>({
    default: Object.freeze({ moderate: 0.6, high: 0.75 }),
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
    default: 15,
    from: 0,
    unit: "m",
    meaning: "Shorter zones are dropped.",
  }),
  reach_m: groupOption(
    {
      incident: reach(15, "incidents"),
      structure: reach(5, "structures"),
      boundary: reach(5, "the ends of blocks"),
      surroundings: reach(100, "what a core is compared with, either way"),
    },
    { unit: "m", meaning: "How far evidence at a point reaches along the bank." },
  ),
  pervious_ohm_m: numberOption({
    default: 50,
    above: 0,
    unit: "ohm-m",
    meaning: "Resistivity at 25 °C taken for pervious ground where boreholes cannot tell.",
  }),
  perviousThickness_m: numberOption({
    default: 0.5,
    above: 0,
    unit: "m",
    meaning: "Thickness from which pervious ground counts.",
  }),
  coreRatio: numberOption({
    default: 1.25,
    above: 1,
    meaning: "Ratio to the line about it from which ground counts as standing out.",
  }),
  thinShare: probability(0.75, "Share of its median below which the blanket at the toe is thin."),
  stretch_m: numberOption({
    default: 50,
    above: 0,
    unit: "m",
    meaning: "Length of the stretches whose hydraulics are set side by side.",
  }),
  hydraulics: hydraulicOptions,
  seed: numberOption({
    default: 1,
    whole: true,
    meaning: "Seed of every draw of this step.",
  }),
};

/** Options of `scoreSeepage`, resolved. */
export interface SeepageOptions extends OptionsOf<typeof seepageOptions> {}

export const seepageDefaults: SeepageOptions = defaultsOf(seepageOptions);
