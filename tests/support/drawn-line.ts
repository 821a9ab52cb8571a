// Stations over ground drawn from the prior of the depth slices, and their readings.
import { EarthSource } from "../../lib/depth/prior/earth-source.js";
import { KIND_SHARES } from "../../lib/depth/prior/kinds.js";
import { meanBetween } from "../../lib/depth/prior/layer-means.js";
import { triedEarths } from "../../lib/depth/prior/tried-earths.js";
import { coilResponse } from "../../lib/earth/coil-response.js";
import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { campaignOf, channelOf } from "./campaign.js";

const SHARE = 0.02;
const GAIN = 0.01;
const ZERO_PPM = 5;
const HEIGHT_M = 0.4;
const SWAY_M = 0.015;
const FLOOR_PPM = 10;
const CHANNELS = (["HCP", "PRP"] as const).flatMap((orientation) =>
  [1.2, 2.2, 3.6].map((separation_m) =>
    channelOf({
      orientation,
      separation_m,
      frequency_Hz: 10_000,
      field: `q_${orientation}_${separation_m}`,
    }),
  ),
);

/** Slices that truth and estimate are compared over. */
export const SLICES = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2.4 },
  { top_m: 2.4, base_m: 5 },
];

export interface DrawnLine {
  readonly campaign: Campaign;
  /** [slice][station]: log10(ohm-m). */
  readonly truth: readonly (readonly number[])[];
}

/** Stations of 2 m, each over an earth of its own, with errors of the sizes that are declared. */
export function drawnLine({
  seed,
  stations,
}: {
  readonly seed: number;
  readonly stations: number;
}): DrawnLine {
  const random = seededRandom(seed);
  const [reachable, source] = [() => true, new EarthSource(seed)];
  const { earths } = triedEarths({ count: stations, shares: KIND_SHARES, reachable, source });
  const values = CHANNELS.map(() => new Array<number>(stations));
  for (const [i, { lnConductivity, thickness_m }] of earths.entries()) {
    const earth = { conductivity_S_per_m: lnConductivity.map(Math.exp), thickness_m };
    const height_m = HEIGHT_M + SWAY_M * random.normal();
    for (const [d, channel] of CHANNELS.entries()) {
      const clean = coilResponse(earth, { ...channel, height_m }).quadrature_ppm;
      const noise = Math.hypot(SHARE * clean, FLOOR_PPM) * random.normal();
      const gain = 1 + GAIN * random.normal();
      values[d]![i] = gain * clean + ZERO_PPM * random.normal() + noise;
    }
  }
  const chainage_m = Array.from({ length: stations }, (_, i) => 2 * i);
  const passes = [{ channels: CHANNELS, values, chainage_m, height_m: HEIGHT_M, resource: "walk" }];
  const noise = CHANNELS.map(({ field }) => ({
    resource: "walk",
    channel: field,
    floor: FLOOR_PPM,
    share_pct: 0,
  }));
  const truth = SLICES.map(({ top_m, base_m }) =>
    earths.map((earth) => -meanBetween(earth, top_m, base_m) / Math.LN10),
  );
  return { campaign: { ...campaignOf({ passes }), noise }, truth };
}
