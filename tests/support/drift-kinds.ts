// Seeded surveys whose channels drift each in a way of its own, and what a correction leaves of it.
import type { DriftCorrected } from "../../lib/drift/drift.js";
import { type Random, seededRandom } from "../../lib/numerics/random.js";
import { NORMAL_90 } from "../../lib/numerics/statistics/normal.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { campaignOf, campaignStart_s, channelOf } from "./campaign.js";

/** One channel each, in this order. */
export const kinds = ["linear", "warming up", "swinging", "stepped", "none"] as const;
export type Kind = (typeof kinds)[number];

export interface DriftSurvey {
  readonly campaign: Campaign;
  /** For each channel, its true drift at each reading since the first visit, ppm. */
  readonly truth: readonly Float64Array[];
  /** For each channel, the standard error of one visit's mean, ppm: repeats and repositioning. */
  readonly visitError: readonly number[];
  /** For each channel, what the walk's drift ranges over, in standard errors of one visit. */
  readonly size: readonly number[];
}

/** Standard deviation of a repeat, ppm. */
const NOISE = 12;
const READINGS = 600;
/** The reading without drift or noise, ppm. */
const LEVEL = 1500;

/** How a day's checks were laid out. */
interface Design {
  readonly walk_h: number;
  /** Hours of the visits; two of them are just before and after the change of battery. */
  readonly visits_h: readonly number[];
  readonly battery_h: number;
  readonly repeats: number;
}

/**
 * A walk of 2 to 4 hours with `visits` visits to the base, two of them about a change of battery;
 * 6 to 15 repeats each, and in six surveys of ten the coils are set down a little differently at each
 * visit: up to twice the error of the repeats' mean. Drift ranges over 1 to 30 standard errors of a visit.
 */
export function driftSurvey(seed: number, visits: number): DriftSurvey {
  const random = seededRandom(seed);
  const design = designOf(random, visits);
  const repeatError = NOISE / Math.sqrt(design.repeats);
  const setDown = random.uniform() < 0.4 ? 0 : 2 * repeatError * random.uniform();
  const scatter = kinds.map(() => setDown * between(random, 0.6, 1.4));
  const visitError = scatter.map((one) => Math.hypot(one, repeatError));
  const size = kinds.map((kind) => (kind === "none" ? 0 : 30 ** random.uniform()));
  const hours = walkHours(design);
  const drifts = kinds.map((kind, c) => {
    const shape = shapeOf(kind, random, design);
    const values = hours.map(shape);
    const range = Math.max(...values) - Math.min(...values);
    const factor = range > 0 ? (sign(random) * size[c]! * visitError[c]!) / range : 0;
    return (h: number) => factor * (shape(h) - shape(design.visits_h[0]!));
  });
  const truth = drifts.map((drift) => Float64Array.from(hours, drift));
  const campaign = campaignOf({
    passes: [
      {
        channels: kinds.map((_, c) => channelOf({ field: `q_${c}`, frequency_Hz: 1000 + c })),
        chainage_m: hours.map((_, i) => 1.2 * i),
        time_s: hours.map(secondsOf),
        values: truth.map((column) => column.map((one) => LEVEL + one)),
      },
    ],
    baseChecks: design.visits_h.flatMap((hour) => {
      const off = scatter.map((one) => one * random.normal());
      return Array.from({ length: design.repeats }, (_, k) => {
        const at_h = hour + (3 * k) / 3600;
        const value = (c: number) => 700 + drifts[c]!(at_h) + off[c]! + NOISE * random.normal();
        return {
          time_s: secondsOf(at_h),
          values: Object.fromEntries(kinds.map((_, c) => [`q_${c}`, value(c)])),
        };
      });
    }),
  });
  return { campaign, truth, visitError, size };
}

const secondsOf = (hour: number) => campaignStart_s + 3600 * hour;
const between = (random: Random, low: number, high: number) =>
  low + (high - low) * random.uniform();
const sign = (random: Random) => (random.uniform() < 0.5 ? -1 : 1);

/** Visits at even distances, each a little early or late, and two about the change of battery. */
function designOf(random: Random, visits: number): Design {
  const walk_h = between(random, 2, 4);
  const step_h = walk_h / (visits - 2);
  const after = Math.floor(between(random, 0.35, 0.65) * (visits - 2));
  const battery_h = (after + 0.5) * step_h;
  const even = Array.from({ length: visits - 1 }, (_, i) => {
    const late = i === 0 || i === visits - 2 ? 0 : between(random, -0.15, 0.15);
    return (i + late) * step_h;
  });
  // One of the even visits gives way to the two at the battery.
  const [near] = [...even.slice(1, -1)].sort(
    (a, b) => Math.abs(a - battery_h) - Math.abs(b - battery_h),
  );
  const visits_h = [...even.filter((h) => h !== near), battery_h - 0.05, battery_h + 0.05];
  visits_h.sort((a, b) => a - b);
  return { walk_h, visits_h, battery_h, repeats: 6 + random.integer(10) };
}

/** Readings all along the walk, none while the instrument stands at the spot. */
function walkHours({ walk_h, visits_h, battery_h }: Design): readonly number[] {
  return Array.from({ length: READINGS }, (_, i) => ((i + 0.5) / READINGS) * walk_h).filter(
    (h) =>
      Math.abs(h - battery_h) > 0.07 && visits_h.every((visit_h) => Math.abs(h - visit_h) > 0.02),
  );
}

function shapeOf(kind: Kind, random: Random, design: Design): (hour: number) => number {
  const [warm_h, period_h] = [between(random, 0.3, 1.2), between(random, 2, 8)];
  const [phase, rest] = [2 * Math.PI * random.uniform(), between(random, -0.5, 0.5)];
  switch (kind) {
    case "linear":
      return (h) => h;
    case "warming up":
      return (h) => 1 - Math.exp(-h / warm_h);
    case "swinging":
      return (h) => Math.sin((2 * Math.PI * h) / period_h + phase);
    case "stepped":
      return (h) => (h > design.battery_h ? 1 : 0) + (rest * h) / design.walk_h;
    case "none":
      return () => 0;
  }
}

/** What a correction left of one channel's drift, ppm. */
export interface Leftover {
  /** Root mean square along the walk, less its mean: a constant level is no trend. */
  readonly trend: number;
  /** Change from end to end of the straight line through it. */
  readonly line: number;
  /** Share of readings whose leftover lies within the 80 % band of the stated standard deviation. */
  readonly held: number;
}

const mean = (list: Float64Array) => list.reduce((sum, one) => sum + one, 0) / list.length;

/** How much the straight line through values changes over their times, without its sign. */
export function straightChange(time_s: Float64Array, values: Float64Array): number {
  const [t, l] = [mean(time_s), mean(values)];
  let [along, square] = [0, 0];
  for (const [i, time] of time_s.entries()) {
    along += (time - t) * (values[i]! - l);
    square += (time - t) ** 2;
  }
  return Math.abs((along / square) * (time_s.at(-1)! - time_s[0]!));
}

export function leftoverOf({ passes }: Pick<DriftCorrected, "passes">, c: number): Leftover {
  const { time_s, values, driftSd } = passes[0]!;
  const left = values[c]!.map((value) => value - LEVEL);
  const l = mean(left);
  const sd = driftSd?.[c] ?? new Float64Array(left.length);
  return {
    trend: Math.sqrt(mean(left.map((one) => (one - l) ** 2))),
    line: straightChange(time_s, left),
    held: left.filter((one, i) => Math.abs(one) <= NORMAL_90 * sd[i]!).length / left.length,
  };
}
