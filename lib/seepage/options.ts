import { type Fault, quoted, StepError } from "../step/step-error.js";
import { unknownOptions } from "../step/unknown-options.js";
import type { BlanketRanges } from "./exit-gradient.js";
import type { EvidenceName } from "./seepage.js";

/** Weights of one piece of evidence, log-odds (natural): where it is present, and where absent. */
export interface EvidenceWeight {
  readonly present: number;
  readonly absent: number;
}

export interface SeepageOptions {
  /** Log-odds of each piece; the interpreter's own judgement, to be declared with `decide`. */
  readonly weights: Readonly<Record<EvidenceName, EvidenceWeight>>;
  /** Probability of a seepage path at a cell before any evidence, 0 … 1. Default 0.05. */
  readonly startingProbability: number;
  /** Length of a cell along chainage, m, over 0. Default 5. */
  readonly cell_m: number;
  /** Cells at this probability or above form zones, 0 … 1. Default 0.2. */
  readonly zoneFrom: number;
  /** Bands: below `moderate` low, below `high` moderate, else high. Default 0.4 and 0.7. */
  readonly bands: { readonly moderate: number; readonly high: number };
  /** Zones nearer than this are one, m. Default 15. */
  readonly joinWithin_m: number;
  /** Shorter zones are dropped, m. Default 10. */
  readonly minLength_m: number;
  /** Reach of incidents, structures and block ends along the bank, m. Default 15, 5 and 5. */
  readonly reach_m: {
    readonly incident: number;
    readonly structure: number;
    readonly boundary: number;
  };
  /** Resistivity taken for pervious ground where boreholes cannot tell, ohm-m. Default 60. */
  readonly pervious_ohm_m: number;
  /** Contrast that counts as a blanket over pervious ground. Default 1.5. */
  readonly blanketRatio: number;
  /** Ranges for the exit gradient, uniform or log-uniform within their limits. */
  readonly blanket: BlanketRanges;
  /** Seed of the draws for the exit gradient. Default 1. */
  readonly seed: number;
}

export const seepageDefaults: SeepageOptions = Object.freeze({
  weights: Object.freeze({
    "pervious layer": Object.freeze({ present: 1.6, absent: -0.6 }),
    "thin blanket": Object.freeze({ present: 0.9, absent: -0.2 }),
    "wetter at high water": Object.freeze({ present: 1.4, absent: -0.3 }),
    "recorded incident": Object.freeze({ present: 2, absent: 0 }),
    structure: Object.freeze({ present: 0.8, absent: 0 }),
    "change of make": Object.freeze({ present: 0.4, absent: 0 }),
  }),
  startingProbability: 0.05,
  cell_m: 5,
  zoneFrom: 0.2,
  bands: Object.freeze({ moderate: 0.4, high: 0.7 }),
  joinWithin_m: 15,
  minLength_m: 10,
  reach_m: Object.freeze({ incident: 15, structure: 5, boundary: 5 }),
  pervious_ohm_m: 60,
  blanketRatio: 1.5,
  blanket: Object.freeze({
    blanketThickness_m: [0.8, 2.5],
    aquiferThickness_m: [3, 12],
    blanketConductivity_m_per_s: [1e-7, 5e-6],
    aquiferConductivity_m_per_s: [5e-5, 1e-3],
    riverside_m: [10, 100],
    landside_m: [50, 300],
    draws: 2000,
  } as const),
  seed: 1,
});

/** Throws a StepError that names every option outside its range. */
export function refuseBadOptions(used: SeepageOptions): void {
  const faults: Fault[] = [];
  const need = (ok: boolean, path: string, expected: string, received: unknown) => {
    if (!ok) {
      faults.push({
        code: "option-range",
        path: `options.${path}`,
        expected,
        received: quoted(received),
      });
    }
  };
  const between = (value: number) => value > 0 && value < 1;
  need(
    between(used.startingProbability),
    "startingProbability",
    "between 0 and 1",
    used.startingProbability,
  );
  need(between(used.zoneFrom), "zoneFrom", "between 0 and 1", used.zoneFrom);
  need(used.cell_m > 0, "cell_m", "over 0 m", used.cell_m);
  need(used.joinWithin_m >= 0, "joinWithin_m", "0 m or more", used.joinWithin_m);
  need(used.minLength_m >= 0, "minLength_m", "0 m or more", used.minLength_m);
  need(used.pervious_ohm_m > 0, "pervious_ohm_m", "over 0 ohm-m", used.pervious_ohm_m);
  need(used.blanketRatio > 0, "blanketRatio", "over 0", used.blanketRatio);
  const { moderate, high } = used.bands;
  need(
    between(moderate) && between(high) && moderate < high,
    "bands",
    "0 < moderate < high < 1",
    `${moderate}, ${high}`,
  );
  for (const [name, reach] of Object.entries(used.reach_m)) {
    need(reach > 0, `reach_m.${name}`, "over 0 m", reach);
  }
  for (const name of Object.keys(seepageDefaults.weights) as EvidenceName[]) {
    const weight = used.weights[name];
    const ok = Number.isFinite(weight?.present) && Number.isFinite(weight?.absent);
    need(ok, `weights.${name}`, "two finite log-odds", JSON.stringify(weight));
  }
  const { draws, ...ranges } = used.blanket;
  need(Number.isInteger(draws) && draws >= 100, "blanket.draws", "a whole number from 100", draws);
  for (const [name, [low, high]] of Object.entries(ranges)) {
    need(low > 0 && high >= low, `blanket.${name}`, "0 < low ≤ high", `${low}, ${high}`);
  }
  faults.push(...unknownOptions(used, seepageDefaults));
  if (faults.length > 0) throw new StepError("scoreSeepage", faults);
}
