// Seeded campaigns whose instrument drifts in a known way.
import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { campaignOf, campaignStart_s, channelOf } from "./campaign.js";

export interface DriftTruth {
  readonly perHour: number;
  readonly step: number;
  /** What bends the drift, ppm at an hour of the campaign; 0 at hour 0. */
  readonly bend?: (hours: number) => number;
}

export interface DriftingSketch {
  readonly seed: number;
  /** One entry a channel. */
  readonly truth: readonly DriftTruth[];
  /** Standard deviation of a reading, ppm. */
  readonly noise?: number;
  readonly repeats?: number;
  /** Scatter of whole visits, as when the coils are set down anew, ppm. */
  readonly visitNoise?: number;
  /** Hours of the visits to the fixed spot. */
  readonly visits_h?: readonly number[];
}

export const visits_h = [0, 0.6, 1.2, 1.3, 1.9, 2.5];
export const batteryChange_h = 1.25;

/** Every quarter of an hour or so, as where an instrument is known to bend. */
export const manyVisits_h = [0, 0.3, 0.6, 0.9, 1.2, 1.3, 1.6, 1.9, 2.2, 2.5];

/** Visits over 2.5 hours, the battery changed in the middle. */
export function drifting(sketch: DriftingSketch): Campaign {
  const { noise = 12, repeats = 12, visitNoise = 0, truth } = sketch;
  const hoursOfVisits = sketch.visits_h ?? visits_h;
  const random = seededRandom(sketch.seed);
  const channels = truth.map((_, c) => channelOf({ field: `q_${c}`, frequency_Hz: 1000 + c }));
  const at = (one: DriftTruth, hours: number) =>
    one.perHour * hours + (hours > batteryChange_h ? one.step : 0) + (one.bend?.(hours) ?? 0);
  const n = 600;
  // No reading is taken during the battery change.
  const hours = Array.from({ length: n }, (_, i) =>
    i < 300 ? 0.05 + i / 270 : 1.32 + (i - 300) / 270,
  );
  return campaignOf({
    passes: [
      {
        channels,
        chainage_m: hours.map((_, i) => 1.2 * i),
        time_s: hours.map((h) => campaignStart_s + 3600 * h),
        values: truth.map((one) => hours.map((h) => level + at(one, h))),
      },
    ],
    baseChecks: hoursOfVisits.flatMap((hour) => {
      const setDown = truth.map(() => visitNoise * random.normal());
      return Array.from({ length: repeats }, (_, k) => ({
        time_s: campaignStart_s + 3600 * hour + 2 * k,
        values: Object.fromEntries(
          truth.map((one, c) => [
            `q_${c}`,
            700 + at(one, hour + k / 1800) + setDown[c]! + noise * random.normal(),
          ]),
        ),
      }));
    }),
  });
}

/** The reading without drift or noise. */
export const level = 1500;
