import { madScale, median } from "../../numerics/robust.js";
import type { Campaign, Pass } from "../../survey/survey.js";

/** Readings of one channel at the same places at two times: by how much they rose. */
export interface Crossing {
  readonly from_s: number;
  readonly to_s: number;
  /** Middle difference, later less earlier, channel's unit. */
  readonly rise: number;
  readonly error: number;
  /** Pairs of readings behind it. */
  readonly pairs: number;
}

export interface CrossingOptions {
  readonly crossingWithin_m: number;
  readonly crossingApart_s: number;
}

/** Coils at heights further apart than this do not read the same ground, m. */
const SAME_HEIGHT_M = 0.05;
/**
 * Pairs are gathered into this many stretches of the campaign's time each way: the most of them that
 * give no channel too many crossings.
 */
const STRETCHES = [24, 16, 11];
const FEWEST = 8;
/** More crossings than this cost much and tell little more. */
const MOST_CROSSINGS = 40;
/** Shortest stretch of time gathered, s. */
const SHORTEST_S = 120;
/** Fewer pairs than this say nothing that is safe against a bad one. */
const LEAST_PAIRS = 5;
/** Error of a median over that of a mean of normal values: sqrt(π/2). */
const MEDIAN_ERROR = 1.2533;
/** Neighbouring pairs miss the same place alike, so two of them count as one. */
const ALIKE = 2;

/**
 * Channel field → what re-crossings and overlapping passes say of its drift. Two readings of the same
 * channel pair up where they lie within `crossingWithin_m` of each other and `crossingApart_s` or more
 * apart; pairs from the same two stretches of time give one median difference.
 */
export function crossingsOf(
  campaign: Campaign,
  options: CrossingOptions,
): ReadonlyMap<string, readonly Crossing[]> {
  const pairs = pairsOf(campaign.passes, options);
  for (const stretches of STRETCHES) {
    const found = crossingsIn(pairs, stretches);
    if ([...found.values()].every(({ length }) => length <= MOST_CROSSINGS)) return found;
  }
  return crossingsIn(pairs, FEWEST);
}

function crossingsIn(pairs: readonly Pair[], stretches: number) {
  const times = pairs.flatMap(({ from_s, to_s }) => [from_s, to_s]);
  const first_s = times.reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);
  const last_s = times.reduce((most, t) => Math.max(most, t), Number.NEGATIVE_INFINITY);
  const stretch_s = Math.max(SHORTEST_S, (last_s - first_s) / stretches);
  const gathered = new Map<string, Map<string, Pair[]>>();
  for (const pair of pairs) {
    const cell = (t: number) => Math.min(stretches - 1, Math.floor((t - first_s) / stretch_s));
    const key = `${cell(pair.from_s)} ${cell(pair.to_s)}`;
    const cells = gathered.get(pair.field) ?? new Map<string, Pair[]>();
    gathered.set(pair.field, cells);
    const own = cells.get(key);
    if (own === undefined) cells.set(key, [pair]);
    else own.push(pair);
  }
  return new Map(
    [...gathered].map(([field, cells]) => [field, [...cells.values()].flatMap(crossingOf)]),
  );
}

interface Pair {
  readonly field: string;
  readonly from_s: number;
  readonly to_s: number;
  readonly rise: number;
}

function crossingOf(pairs: readonly Pair[]): readonly Crossing[] {
  if (pairs.length < LEAST_PAIRS) return [];
  const rises = pairs.map(({ rise }) => rise);
  const rise = median(rises);
  const scatter = Math.max(madScale(rises), 1e-6 * Math.abs(rise), 1e-9);
  const middle = (times: readonly number[]) =>
    times[0]! + times.reduce((sum, t) => sum + t - times[0]!, 0) / times.length;
  return [
    {
      from_s: middle(pairs.map(({ from_s }) => from_s)),
      to_s: middle(pairs.map(({ to_s }) => to_s)),
      rise,
      error: (MEDIAN_ERROR * scatter) / Math.sqrt(pairs.length / ALIKE),
      pairs: pairs.length,
    },
  ];
}

interface Place {
  readonly pass: Pass;
  readonly i: number;
}

function pairsOf(passes: readonly Pass[], options: CrossingOptions): readonly Pair[] {
  const grid = gridOf(passes, options.crossingWithin_m);
  const pairs: Pair[] = [];
  for (const pass of passes) {
    for (let i = 0; i < pass.count; i++) {
      const near = nearestLater({ pass, i }, grid, options);
      if (near !== null) pairs.push(...risesBetween({ pass, i }, near));
    }
  }
  return pairs;
}

type Grid = ReadonlyMap<string, readonly Place[]>;

function gridOf(passes: readonly Pass[], size_m: number): Grid {
  const grid = new Map<string, Place[]>();
  for (const pass of passes) {
    for (let i = 0; i < pass.count; i++) {
      const { easting_m, northing_m, time_s } = pass;
      if (!Number.isFinite(easting_m[i]! + northing_m[i]! + time_s[i]!)) continue;
      const key = cellKey(easting_m[i]! / size_m, northing_m[i]! / size_m);
      const cell = grid.get(key);
      if (cell === undefined) grid.set(key, [{ pass, i }]);
      else cell.push({ pass, i });
    }
  }
  return grid;
}

function cellKey(x: number, y: number): string {
  return `${Math.floor(x)} ${Math.floor(y)}`;
}

/** The nearest reading within reach that was taken long enough after this one. */
function nearestLater({ pass, i }: Place, grid: Grid, options: CrossingOptions): Place | null {
  const { crossingWithin_m: size_m, crossingApart_s } = options;
  const [x, y, t] = [pass.easting_m[i]!, pass.northing_m[i]!, pass.time_s[i]!];
  let [best, least]: [Place | null, number] = [null, size_m];
  for (let k = 0; k < 9; k++) {
    const key = cellKey(x / size_m + (k % 3) - 1, y / size_m + Math.floor(k / 3) - 1);
    for (const other of grid.get(key) ?? []) {
      if (!(other.pass.time_s[other.i]! - t >= crossingApart_s)) continue;
      const away = Math.hypot(
        other.pass.easting_m[other.i]! - x,
        other.pass.northing_m[other.i]! - y,
      );
      if (away <= least) [best, least] = [other, away];
    }
  }
  return best;
}

function risesBetween(one: Place, later: Place): readonly Pair[] {
  const heights = [one.pass.height_m[one.i]!, later.pass.height_m[later.i]!] as const;
  if (Math.abs(heights[0] - heights[1]) > SAME_HEIGHT_M) return [];
  return one.pass.instrument.channels.flatMap(({ field }, c) => {
    const d = later.pass.instrument.channels.findIndex((other) => other.field === field);
    if (d < 0) return [];
    const [before, after] = [valueInUse(one, c), valueInUse(later, d)];
    if (Number.isNaN(before - after)) return [];
    const [from_s, to_s] = [one.pass.time_s[one.i]!, later.pass.time_s[later.i]!];
    return [{ field, from_s, to_s, rise: after - before }];
  });
}

function valueInUse({ pass, i }: Place, c: number): number {
  return pass.setAside[c]![i] === 0 ? pass.values[c]![i]! : Number.NaN;
}
