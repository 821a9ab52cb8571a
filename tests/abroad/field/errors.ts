/** What goes wrong in the field, each part to be named, sized and mixed. */
export interface FieldErrors {
  /** 1 for the instrument's noise, 0 for none. */
  readonly noise: number;
  /** Swaying of the coils' height while walking, standard deviation, m. */
  readonly sway_m: number;
  /** Zero of each channel and walk: anything between − and + this, ppm of quadrature. */
  readonly zero_ppm: number;
  /** Gain of each channel: standard deviation, share. */
  readonly gain: number;
  readonly height: HeightError;
  readonly drift: Drift;
  readonly checks: "regular" | "sparse" | "none";
  readonly gps: GpsError;
  /** One channel is blank over this share of its walk. */
  readonly missing: number;
  /** Written soil temperatures less the true ones, °C. */
  readonly temperature_degC: number;
}

/** The coils' true height less the stated one, which is what the file says. */
export interface HeightError {
  /** Of each walk: anything between − and + this, m. */
  readonly byWalk_m: number;
  /** A second operator carries the coils this much higher, m … */
  readonly second_m: number;
  /** … on this share of each walk: its first or its last part. */
  readonly share: number;
  /** Slow wandering along each walk, resembling itself over 80 m: standard deviation, m; default 0. */
  readonly wander_m?: number;
}

export interface Drift {
  readonly kind: "none" | "linear" | "warm-up" | "swing" | "step";
  /** What a channel may drift over the day, ppm of quadrature. */
  readonly size_ppm: number;
}

export interface GpsError {
  /** A position every so many seconds … */
  readonly every_s: number;
  /** … between which cells are blank or repeat the last position. */
  readonly between: "blank" | "held";
  /** Standard deviation of each position, m, neighbours alike over 20 s. */
  readonly jitter_m: number;
  /** Of all positions of a walk along the bank, forward or back, m. */
  readonly offset_m: number;
}

const QUIET: FieldErrors = {
  noise: 1,
  sway_m: 0.007,
  zero_ppm: 0,
  gain: 0,
  height: { byWalk_m: 0, second_m: 0, share: 0 },
  drift: { kind: "none", size_ppm: 0 },
  checks: "regular",
  gps: { every_s: 1, between: "blank", jitter_m: 0.05, offset_m: 0 },
  missing: 0,
  temperature_degC: 0,
};

const drifting = (kind: Drift["kind"]): Partial<FieldErrors> => ({
  drift: { kind, size_ppm: 60 },
});

const gps = (one: Partial<GpsError>): Partial<FieldErrors> => ({ gps: { ...QUIET.gps, ...one } });

const height = (one: Partial<HeightError>): Partial<FieldErrors> => ({
  height: { ...QUIET.height, ...one },
});

/** One error at a time beside the noise, and two mixtures. */
const SETS = {
  exact: { noise: 0, sway_m: 0, ...gps({ jitter_m: 0 }) },
  noise: {},
  zero: { zero_ppm: 25 },
  gain: { gain: 0.03 },
  "height by walk": height({ byWalk_m: 0.1 }),
  "second operator, a quarter": height({ second_m: 0.1, share: 0.25 }),
  "second operator, a half": height({ second_m: 0.1, share: 0.5 }),
  "linear drift": drifting("linear"),
  "warm-up": drifting("warm-up"),
  swing: drifting("swing"),
  step: drifting("step"),
  "sparse checks": { ...drifting("linear"), checks: "sparse" },
  "no checks": { ...drifting("linear"), checks: "none" },
  "slow GPS": gps({ every_s: 5, jitter_m: 0.3 }),
  "held GPS": gps({ every_s: 5, jitter_m: 0.3, between: "held" }),
  "shifted GPS": gps({ every_s: 5, jitter_m: 0.3, offset_m: 2 }),
  "missing channel": { missing: 0.2 },
  "wrong temperature": { temperature_degC: 3 },
  "zero, gain, height, temperature": {
    zero_ppm: 25,
    gain: 0.03,
    ...height({ byWalk_m: 0.1 }),
    temperature_degC: 3,
  },
  field: {
    zero_ppm: 10,
    gain: 0.01,
    ...height({ byWalk_m: 0.03 }),
    drift: { kind: "linear", size_ppm: 30 },
    ...gps({ jitter_m: 0.3 }),
  },
  rough: {
    zero_ppm: 25,
    gain: 0.03,
    ...height({ byWalk_m: 0.05, second_m: 0.1, share: 0.25 }),
    drift: { kind: "swing", size_ppm: 60 },
    checks: "sparse",
    ...gps({ every_s: 5, jitter_m: 0.3, offset_m: 2 }),
    missing: 0.1,
    temperature_degC: 3,
  },
} satisfies Readonly<Record<string, Partial<FieldErrors>>>;

export type ErrorKind = keyof typeof SETS;

export const ERROR_KINDS = Object.freeze(Object.keys(SETS)) as readonly ErrorKind[];

export function makeErrors(kind: ErrorKind): FieldErrors {
  const set: Partial<FieldErrors> = SETS[kind];
  return { ...QUIET, ...set };
}
