import type { DepthSlices } from "../../lib/depth/depth-slices.js";
import { type Random, seededRandom } from "../../lib/numerics/random.js";
import type { SoilTemperature } from "../../lib/survey/survey.js";
import { makeDepthSlices } from "./depth-slices.js";

/**
 * Campaigns over one invented ground: blocks with texture that all campaigns share, each campaign
 * with errors of its own, a level of its own by slice, its soil temperature, and positions that are
 * off by up to `misplaced_m`. Everything is seeded.
 */
export interface PairMaker {
  readonly seed: number;
  /** Stations 2 m apart; default 500. */
  readonly stations?: number;
  /** Greatest misplacement of a later campaign against the first, m; default 3. */
  readonly misplaced_m?: number;
  /** Standard deviation of the ground's texture, log10; default 0.08. */
  readonly texture?: number;
  /** Standard deviation of an estimate's own error, log10; default 0.03. */
  readonly sd?: number;
  /** Standard deviation of errors that neighbours share (1/e over 4 m), log10; default 0.02. */
  readonly sharedError?: number;
  /** log10 change against the first campaign by chainage, slice and campaign; default none. */
  readonly change?: (x: number, k: number, campaign: number) => number;
  /** Campaigns, default 2. */
  readonly campaigns?: number;
}

export interface MadeCampaigns {
  readonly slices: readonly DepthSlices[];
  /** n misplacements of each campaign: what lies at x in the first lies at x + this in it, m. */
  readonly misplaced_m: readonly ((x: number) => number)[];
}

export function makeCampaigns(maker: PairMaker): MadeCampaigns {
  const { stations = 500, campaigns = 2, change = () => 0 } = maker;
  const random = seededRandom(maker.seed);
  const ground = inventedGround(random, 2 * stations, maker.texture ?? 0.08);
  const misplaced_m = Array.from({ length: campaigns }, (_, c) =>
    c === 0 ? () => 0 : misplacement(random, maker.misplaced_m ?? 3),
  );
  const slices = misplaced_m.map((shift, c) => {
    const level = [0, 1, 2].map(() => 0.05 * random.normal());
    const temperature_degC = 4 + 14 * random.uniform();
    const time_s = Date.UTC(2031, 3 + 6 * c, 6, 9) / 1000;
    return makeDepthSlices({
      campaign: `20${31 + Math.floor((3 + 6 * c) / 12)}-${c % 2 === 0 ? "04" : "10"}`,
      seed: 1000 * maker.seed + c,
      stations,
      sd: maker.sd ?? 0.03,
      texture: maker.sharedError ?? 0.02,
      correlation_m: 4,
      time_s,
      soilTemperature: constantSoil(time_s, temperature_degC),
      // A station of the campaign sees the ground that lies `shift` short of its chainage.
      truth: (x, k) => {
        const at = x - shift(x);
        return ground(at, k) + change(at, k, c) + level[k]! + atFieldTemperature(temperature_degC);
      },
    });
  });
  return { slices, misplaced_m };
}

/** log10 of resistivity at a temperature over that at 25 °C: Corwin & Lesch 2005. */
const atFieldTemperature = (T: number) => Math.log10(0.447 + 1.4034 * Math.exp(-T / 26.815));

function constantSoil(time_s: number, temperature_degC: number): SoilTemperature[] {
  return [0.2, 1, 3].map((depth_m) => ({ time_s, depth_m, temperature_degC }));
}

/** A constant and a slow wave that together stay within the limit. */
function misplacement(random: Random, most_m: number): (x: number) => number {
  const share = random.uniform();
  const constant = most_m * share * (2 * random.uniform() - 1);
  const wave = most_m * (1 - share) * random.uniform();
  const length_m = 200 + 400 * random.uniform();
  const phase = 2 * Math.PI * random.uniform();
  return (x) => constant + wave * Math.sin((2 * Math.PI * x) / length_m + phase);
}

const STEP_M = 0.5;

/** Blocks of 80–250 m with steps of about a fifth of a decade, and texture seen through a footprint. */
function inventedGround(random: Random, length_m: number, texture: number) {
  const n = Math.ceil((length_m + 40) / STEP_M);
  const common = textureRow(random, n);
  const rows = [0, 1, 2].map(() => {
    const own = textureRow(random, n);
    const step = Math.sqrt(0.5);
    return own.map((value, i) => texture * step * (value + common[i]!));
  });
  for (let at = 0; at < n; ) {
    const next = at + Math.round((80 + 170 * random.uniform()) / STEP_M);
    const levels = rows.map(() => 1.5 + 0.2 * random.normal());
    rows.forEach((row, k) => {
      for (let i = at; i < Math.min(next, n); i++) row[i] = row[i]! + levels[k]!;
    });
    at = next;
  }
  const seen = rows.map((row) => footprint(row, 3));
  return (x: number, k: number) => {
    const place = Math.min(n - 2, Math.max(0, (x + 20) / STEP_M));
    const i = Math.floor(place);
    return seen[k]![i]! + (place - i) * (seen[k]![i + 1]! - seen[k]![i]!);
  };
}

/** Unit variance, correlation falling to 1/e over 10 m. */
function textureRow(random: Random, n: number): Float64Array {
  const step = Math.exp(-STEP_M / 10);
  let value = random.normal();
  return Float64Array.from({ length: n }, () => {
    value = step * value + Math.sqrt(1 - step * step) * random.normal();
    return value;
  });
}

/** Moving mean over a length, m: what the coils see of the ground along the line. */
function footprint(row: Float64Array, length_m: number): Float64Array {
  const reach = Math.round(length_m / 2 / STEP_M);
  return row.map((_, i) => {
    let sum = 0;
    let count = 0;
    for (let j = Math.max(0, i - reach); j <= Math.min(row.length - 1, i + reach); j++) {
      sum += row[j]!;
      count++;
    }
    return sum / count;
  });
}
