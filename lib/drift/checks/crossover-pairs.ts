import { groupedBy, itemAt, valueAt } from "../../numerics/arrays.js";
import type { Pass } from "../../survey/survey.js";

/** Two readings of one channel at the same place, the later less the earlier one. */
export interface CrossoverPair {
  readonly field: string;
  readonly from_s: number;
  readonly to_s: number;
  readonly rise: number;
}

export interface CrossoverOptions {
  readonly crossingWithin_m: number;
  readonly crossingApart_s: number;
}

/** Coils at heights further apart than this do not read the same ground, m. */
const SAME_HEIGHT_M = 0.05;

/** A reading with a place and a time. */
interface Place {
  readonly pass: Pass;
  readonly i: number;
  readonly x_m: number;
  readonly y_m: number;
  readonly time_s: number;
}

/** Each reading with the nearest later one within reach, channel by channel. */
export function crossoverPairs(
  passes: readonly Pass[],
  options: CrossoverOptions,
): readonly CrossoverPair[] {
  const places = passes.flatMap(placesOf);
  const size_m = options.crossingWithin_m;
  const grid = groupedBy(places, ({ x_m, y_m }) => cellKey(x_m / size_m, y_m / size_m));
  return places.flatMap((place) => {
    const later = nearestLater(place, grid, options);
    return later === null ? [] : pairsBetween(place, later);
  });
}

function placesOf(pass: Pass): readonly Place[] {
  return Array.from(pass.time_s, (time_s, i): Place => {
    return { pass, i, time_s, x_m: valueAt(pass.easting_m, i), y_m: valueAt(pass.northing_m, i) };
  }).filter(({ x_m, y_m, time_s }) => Number.isFinite(x_m + y_m + time_s));
}

type Grid = ReadonlyMap<string, readonly Place[]>;

function cellKey(x: number, y: number): string {
  return `${Math.floor(x)} ${Math.floor(y)}`;
}

/** The nearest reading within reach that was taken long enough after this one. */
function nearestLater(place: Place, grid: Grid, options: CrossoverOptions): Place | null {
  const { crossingWithin_m: size_m, crossingApart_s } = options;
  let [best, least]: [Place | null, number] = [null, size_m];
  for (let k = 0; k < 9; k++) {
    const [column, row] = [(k % 3) - 1, Math.floor(k / 3) - 1];
    const key = cellKey(place.x_m / size_m + column, place.y_m / size_m + row);
    for (const other of grid.get(key) ?? []) {
      if (!(other.time_s - place.time_s >= crossingApart_s)) continue;
      const away_m = Math.hypot(other.x_m - place.x_m, other.y_m - place.y_m);
      if (away_m <= least) [best, least] = [other, away_m];
    }
  }
  return best;
}

function pairsBetween(one: Place, later: Place): readonly CrossoverPair[] {
  const apart_m = valueAt(one.pass.height_m, one.i) - valueAt(later.pass.height_m, later.i);
  if (Math.abs(apart_m) > SAME_HEIGHT_M) return [];
  return one.pass.instrument.channels.flatMap(({ field }, c) => {
    const d = later.pass.instrument.channels.findIndex((other) => other.field === field);
    if (d < 0) return [];
    const rise = valueInUse(later, d) - valueInUse(one, c);
    return Number.isNaN(rise) ? [] : [{ field, from_s: one.time_s, to_s: later.time_s, rise }];
  });
}

function valueInUse({ pass, i }: Place, c: number): number {
  return itemAt(pass.setAside, c)[i] === 0 ? valueAt(itemAt(pass.values, c), i) : Number.NaN;
}
