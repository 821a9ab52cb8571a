import type { Random } from "../../lib/numerics/random.js";
import type { CampaignLabel } from "./facts.js";

/** The coil instrument: channels, noise and drift. */

export interface Channel {
  readonly field: string;
  readonly kind: "quadrature" | "inphase";
  readonly unit: "ppm";
  readonly frequency_Hz: number;
  readonly separation_m: number;
  readonly orientation: "HCP" | "VCP";
}

export const COILS = Object.freeze({ height_m: 0.9, separation_m: 1.8 });
export const NOISE = Object.freeze({ share: 0.01, quadrature_ppm: 10, inphase_ppm: 25 });
/** Readings of each orientation in a base check. */
export const CHECK_READINGS = 20;

const FREQUENCIES = [
  ["1k5", 1500],
  ["4k", 4000],
  ["10k", 10000],
  ["25k", 25000],
  ["60k", 60000],
] as const;

/** Ten channels of one orientation, quadrature first at each frequency. */
export function channelsOf(orientation: "HCP" | "VCP"): readonly Channel[] {
  return FREQUENCIES.flatMap(([name, frequency_Hz]) =>
    (["quadrature", "inphase"] as const).map((kind) => ({
      field: `${kind === "quadrature" ? "q" : "i"}_${name}_${orientation.toLowerCase()}`,
      kind,
      unit: "ppm" as const,
      frequency_Hz,
      separation_m: COILS.separation_m,
      orientation,
    })),
  );
}

/** Standard deviation of one reading, ppm. */
export function noiseOf(channel: Channel, value_ppm: number): number {
  const floor = channel.kind === "quadrature" ? NOISE.quadrature_ppm : NOISE.inphase_ppm;
  return Math.hypot(floor, NOISE.share * value_ppm);
}

/** ppm per hour (mean, without the step) and the step at the battery change, ppm. */
type DriftFigures = readonly [perHour: number, step: number];

/** In the order of `channelsOf`: quadrature and in-phase of each frequency, upward. */
const DRIFT: Readonly<Record<CampaignLabel, Record<"HCP" | "VCP", readonly DriftFigures[]>>> = {
  "2031-10": {
    HCP: [
      [58, 24],
      [172, -85],
      [-64, 31],
      [-138, 62],
      [83, -22],
      [0.9, 48],
      [-96, 38],
      [214, -110],
      [146, 55],
      [-286, 130],
    ],
    VCP: [
      [-52, 18],
      [148, 58],
      [71, -27],
      [-192, -74],
      [0.6, 35],
      [126, -66],
      [104, 42],
      [233, 95],
      [-138, -47],
      [268, -142],
    ],
  },
  "2032-03": {
    HCP: [
      [-74, -33],
      [0.4, 52],
      [92, 26],
      [185, -90],
      [-61, 45],
      [-152, 71],
      [112, -36],
      [-247, 88],
      [-149, 58],
      [204, -125],
    ],
    VCP: [
      [0.5, 21],
      [-134, 47],
      [-86, -30],
      [221, 68],
      [66, 28],
      [-1.2, -55],
      [-118, 40],
      [176, -102],
      [142, -51],
      [-295, 116],
    ],
  },
};

export function driftFigures(campaign: CampaignLabel, channel: Channel): DriftFigures {
  const at = channelsOf(channel.orientation).findIndex((one) => one.field === channel.field);
  return DRIFT[campaign][channel.orientation][at]!;
}

/** How one channel's zero moves through a day: linear pieces, and a step at the battery change. */
export function driftCurve(
  figures: DriftFigures,
  day: { readonly start_ms: number; readonly battery_ms: number; readonly end_ms: number },
  random: Random,
): (time_ms: number) => number {
  const [perHour, step] = figures;
  const pieces = 4;
  const length_h = (day.end_ms - day.start_ms) / 3_600_000;
  const rates = Array.from({ length: pieces }, () => 1 + 0.22 * random.normal());
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / pieces;
  const slopes = rates.map((rate) => (perHour * rate) / mean);
  return (time_ms) => {
    const hours = (time_ms - day.start_ms) / 3_600_000;
    const ramp = slopes.reduce((sum, slope, piece) => {
      const inside = hours - (piece * length_h) / pieces;
      return sum + slope * Math.min(length_h / pieces, Math.max(0, inside));
    }, 0);
    return ramp + (time_ms >= day.battery_ms ? step : 0);
  };
}
