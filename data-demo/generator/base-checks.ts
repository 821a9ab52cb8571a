import { chance } from "./chance.js";
import type { CampaignFacts } from "./facts.js";
import { type Cell, fixed, isoTime } from "./formats.js";
import { CHECK_READINGS, COILS, channelsOf, noiseOf } from "./instrument.js";
import { driftsOf, type Earth, groundResponse } from "./readings.js";
import { conductivityFactor, soilTemperature_degC } from "./temperature.js";
import { CHECK_TURN_S, type FieldDay, type Orientation } from "./walk.js";

/** Repeats at B0, a wooden stand on the gravelled turning place of the landside berm. */

export const BASE_SPOT = "B0";

/** Base of each layer below the berm, m, and its resistivity at 25 °C. */
const BERM: readonly (readonly [number, number])[] = [
  [0.6, 165],
  [2.0, 96],
  [5.0, 74],
  [Number.POSITIVE_INFINITY, 88],
];

export const CHECK_HEADER: readonly string[] = [
  "time",
  "spot",
  ...channelsOf("HCP").map((channel) => channel.field),
  ...channelsOf("VCP").map((channel) => channel.field),
];

export function checkRows(campaign: CampaignFacts, day: FieldDay): readonly (readonly Cell[])[] {
  return day.checks_ms.flatMap((start_ms, check) => [
    ...repeats(campaign, day, { orientation: "HCP", start_ms, check }),
    ...repeats(campaign, day, {
      orientation: "VCP",
      start_ms: start_ms + 1000 * CHECK_TURN_S,
      check,
    }),
  ]);
}

interface Repeat {
  readonly orientation: Orientation;
  readonly start_ms: number;
  readonly check: number;
}

function repeats(campaign: CampaignFacts, day: FieldDay, at: Repeat): readonly (readonly Cell[])[] {
  const { orientation, start_ms, check } = at;
  const channels = channelsOf(orientation);
  const drifts = driftsOf(campaign.label, channels, day);
  const clean = baseResponse(campaign, orientation);
  const random = chance(`check-${campaign.label}-${orientation}-${check}`);
  const blanks = channels.map(() => null);
  return Array.from({ length: CHECK_READINGS }, (_, k) => {
    const time_ms = start_ms + 1000 * k;
    const values = channels.map((channel, c) => {
      const noise = noiseOf(channel, clean[c]!) * random.normal();
      return fixed(clean[c]! + drifts[c]!(time_ms) + noise, 1);
    });
    const cells = orientation === "HCP" ? [...values, ...blanks] : [...blanks, ...values];
    return [isoTime(time_ms, 1), BASE_SPOT, ...cells];
  });
}

/** What the instrument would read at B0 without drift and noise, ppm, by channel. */
export function baseResponse(campaign: CampaignFacts, orientation: Orientation): readonly number[] {
  return groundResponse(bermEarth(Date.parse(campaign.start)), orientation, COILS.height_m);
}

function bermEarth(time_ms: number): Earth {
  const tops = [0, ...BERM.map(([base]) => base)];
  const conductivity_S_per_m = BERM.map(([base, resistivity], k) => {
    const middle = (tops[k]! + Math.min(base, 8)) / 2;
    return 1 / (resistivity * conductivityFactor(soilTemperature_degC(middle, time_ms)));
  });
  const thickness_m = BERM.slice(0, -1).map(([base], k) => base - tops[k]!);
  return { conductivity_S_per_m, thickness_m };
}
