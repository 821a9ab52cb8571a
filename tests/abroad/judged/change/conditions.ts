import { type ErrorKind, type FieldErrors, makeErrors } from "../../field/errors.js";
import type { InstrumentKind } from "../../field/instruments.js";
import type { GroundChange } from "../../ground/columns.js";
import type { GroundKind } from "../../ground/grounds.js";
import type { Chance } from "../../random.js";

/** Under what pairs of campaigns are compared: errors, ground, instruments and what is planted. */
export interface Condition {
  readonly errors: FieldErrors;
  readonly length_m: number;
  /** Taken in turn, seed by seed. */
  readonly instruments: readonly InstrumentKind[];
  readonly grounds: readonly GroundKind[];
  /** What the last campaign sees changed. */
  readonly planted: (random: Chance) => readonly GroundChange[];
  /** What every campaign sees changed from the one before, too little to be a change. */
  readonly patches?: (random: Chance, campaign: number) => readonly GroundChange[];
  /** Only so many channels are shared by the campaigns. */
  readonly channels?: number;
  /** A stretch of this length is set aside in the later campaign, m. */
  readonly gap_m?: number;
}

const LENGTH_M = 400;
const THREE: readonly InstrumentKind[] = [
  "three separations HCP+PRP",
  "five frequencies HCP",
  "2 and 4 m, mS/m",
];
const OTHER: readonly InstrumentKind[] = [
  "three separations HCP",
  "frequencies and separations",
  "five frequencies HCP, VCP",
];
const ALL: ErrorKind = "zero, gain, height, temperature";

interface Planted {
  readonly length_m?: number;
  /** Of resistivity; up or down is drawn. */
  readonly factor?: number;
  readonly top_m?: number;
  readonly base_m?: number;
}

/** One stretch anywhere at least 40 m from the ends: 40 % over 80 m from 0.8 to 3.2 m by default. */
const stretch =
  ({ length_m = 80, factor = 0.6, top_m = 0.8, base_m = 3.2 }: Planted = {}, line_m = LENGTH_M) =>
  (random: Chance): readonly GroundChange[] => {
    const from_m = random.between(40, line_m - 40 - length_m);
    const up = random.sign() > 0;
    return [
      {
        from_m,
        to_m: from_m + length_m,
        top_m,
        base_m,
        factor: up ? 1 / factor : factor,
        since: 2,
      },
    ];
  };

/** Half of the line, from one of its ends. */
const half = (random: Chance): readonly GroundChange[] => {
  const from_m = random.sign() > 0 ? 0 : LENGTH_M / 2;
  return [{ from_m, to_m: from_m + LENGTH_M / 2, top_m: 0.8, base_m: 3.2, factor: 0.6, since: 2 }];
};

/** One stretch that fell and one that rose. */
const opposite = (random: Chance): readonly GroundChange[] =>
  [0.6, 1 / 0.6].map((factor, k) => {
    const from_m = 200 * k + random.between(40, 90);
    return { from_m, to_m: from_m + 80, top_m: 0.8, base_m: 3.2, factor, since: 2 };
  });

/** Moisture at the surface, patch by patch of 8 m, by 5 %. */
const moisture = (random: Chance, campaign: number): readonly GroundChange[] =>
  Array.from({ length: LENGTH_M / 8 }, (_, k) => {
    const factor = Math.exp(0.05 * random.normal());
    return { from_m: 8 * k, to_m: 8 * (k + 1), top_m: 0, base_m: 0.8, factor, since: campaign };
  });

function condition(errors: ErrorKind | FieldErrors, more: Partial<Condition> = {}): Condition {
  return {
    errors: typeof errors === "string" ? makeErrors(errors) : errors,
    length_m: LENGTH_M,
    instruments: THREE,
    grounds: ["blocks"],
    planted: stretch(),
    ...more,
  };
}

const errors = (of: ErrorKind, more: Partial<FieldErrors>): FieldErrors => ({
  ...makeErrors(of),
  ...more,
});
const wandering = { byWalk_m: 0.1, second_m: 0, share: 0, wander_m: 0.03 };
const changed = (of: Planted, line_m = LENGTH_M) => ({
  planted: stretch(of, line_m),
  length_m: line_m,
});

const CONDITIONS = {
  noise: condition("noise"),
  zero: condition("zero"),
  gain: condition("gain"),
  height: condition("height by walk"),
  temperature: condition("wrong temperature"),
  "all four": condition(ALL),
  "second operator, a quarter": condition("second operator, a quarter"),
  "second operator, a half": condition("second operator, a half"),
  "height wanders by 3 cm": condition(errors("noise", { height: wandering })),
  "drift, no checks": condition(
    errors("noise", { drift: { kind: "swing", size_ppm: 60 }, checks: "none" }),
  ),
  "one channel": condition(ALL, { channels: 1 }),
  "places off by 2 m": condition("shifted GPS"),
  "gap of 60 m": condition(ALL, { gap_m: 60 }),
  rough: condition("rough"),
  "moist patches": condition(ALL, { patches: moisture }),
  "other instruments": condition(ALL, { instruments: OTHER }),
  "trending ground": condition(ALL, { grounds: ["gradational", "random walk"] }),
  "odd ground": condition(ALL, {
    grounds: ["dry crest", "thin layers", "saline foundation", "peat"],
  }),
  "20 %": condition(ALL, changed({ factor: 0.8 })),
  "30 %": condition(ALL, changed({ factor: 0.7 })),
  "60 %": condition(ALL, changed({ factor: 0.4 })),
  "20 m long": condition(ALL, changed({ length_m: 20 })),
  "300 m long of 800": condition(ALL, changed({ length_m: 300 }, 800)),
  "at the surface": condition(ALL, changed({ top_m: 0, base_m: 0.8 })),
  "deep only": condition(ALL, changed({ top_m: 2.5, base_m: 5 })),
  "half of the line": condition(ALL, { planted: half }),
  "two, opposite": condition(ALL, { planted: opposite }),
} satisfies Readonly<Record<string, Condition>>;

export type ConditionName = keyof typeof CONDITIONS;

export const CONDITION_NAMES = Object.freeze(Object.keys(CONDITIONS)) as readonly ConditionName[];

export const conditionOf = (name: ConditionName): Condition => CONDITIONS[name];
