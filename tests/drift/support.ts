import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { campaignOf, campaignStart_s, channelOf } from "../support/campaign.js";

/** Standard deviation of a reading, ppm. */
export const NOISE = 12;

/** Out along 1 km of uneven ground and back again, without base checks; drift in ppm by hour. */
export function thereAndBack(seed: number, drift: (hours: number) => number, away_m = 0): Campaign {
  const random = seededRandom(seed);
  const ground = Array.from({ length: 1000 }, () => 800 + 40 * random.normal());
  const out = Array.from({ length: 900 }, (_, i) => 1.1 * i);
  const places = [...out, ...[...out].reverse().map((x) => x + 0.3)];
  const time_s = places.map((_, i) => campaignStart_s + 2 * i);
  const smooth = (x: number) => {
    const i = Math.min(996, Math.floor(x));
    return (ground[i]! + ground[i + 1]! + ground[i + 2]!) / 3;
  };
  const values = places.map((x, i) => {
    return smooth(x) + drift((2 * i) / 3600) + NOISE * random.normal();
  });
  const offset = places.map((_, i) => (i < 900 ? 0 : away_m));
  const campaign = campaignOf({
    passes: [{ channels: [channelOf()], chainage_m: places, time_s, values: [values] }],
  });
  const pass = campaign.passes[0]!;
  const northing_m = pass.northing_m.map((y, i) => y + offset[i]!);
  return { ...campaign, passes: [{ ...pass, northing_m }] };
}
