import type { DepthSlices, Slice } from "../depth/depth-slices.js";
import { firstOf, lastOf, neighbours, zipped } from "../numerics/arrays.js";
import { presentCount, presentMean } from "../numerics/statistics/present.js";
import { madScale, median, quantile } from "../numerics/statistics/robust.js";
import type { Block, BlockSlice } from "./blocks.js";
import type { Boundary } from "./boundaries.js";
import { blockClasses } from "./classes/block-classes.js";
import type { BlockNoise } from "./noise/block-noise.js";
import type { Stretch } from "./texture/stretches.js";

interface DescribeOptions {
  readonly noise: BlockNoise;
  readonly classDistance: number;
  /** One a block; none where they are not known. */
  readonly stretches?: readonly Stretch[];
}

/** The blocks between the boundaries, with their resistivities by slice and their classes. */
export function describeBlocks(
  given: DepthSlices,
  boundaries: readonly Boundary[],
  { noise, classDistance, stretches = [] }: DescribeOptions,
): readonly Block[] {
  const reliable = zipped(given.slices, given.log10Resistivity).filter(([one]) => one.reliable);
  const parts = blockParts(given, boundaries).map(({ from, to }) => ({
    from,
    to,
    columns: reliable.map(([, column]) => column.subarray(from.index, to.index)),
  }));
  const signatures = parts.map(({ columns }) => ({
    level: columns.map(median),
    variance: zipped(columns, noise.variance).map(([column, v]) => v / presentCount(column)),
  }));
  const { effectiveColumns } = noise;
  const classes = blockClasses(signatures, { classDistance, effectiveColumns });
  return zipped(parts, classes).map(([{ from, to, columns }, own], b) => ({
    id: `B${b + 1}`,
    from_m: from.at_m,
    to_m: to.at_m,
    fromInterval_m: from.interval_m,
    toInterval_m: to.interval_m,
    class: own.letter,
    resistivity_ohm_m: zipped(reliable, columns).map(([[slice], c]) => blockSlice(slice, c)),
    ...presence(columns),
    fromProbability: from.probability,
    fromNearProbability: from.nearProbability,
    classProbability: own.probability,
    ...stretchOf(columns, stretches[b]),
    heterogeneity: Math.sqrt(presentMean(columns.map((column) => madScale(column) ** 2))),
  }));
}

/** A rise of less than this is not told, decades (12 %). */
const LEAST_RISE = 0.05;

function stretchOf(columns: readonly Float64Array[], stretch: Stretch | undefined) {
  if (stretch === undefined) return {};
  const { rise, leastStep } = stretch;
  const leastStep_pct = 100 * (10 ** leastStep - 1);
  const isSteady = rise !== null && Math.abs(presentMean(rise)) >= LEAST_RISE;
  if (!isSteady || !isFollowed(columns, rise)) return { leastStep_pct };
  const trend = zipped(columns, rise).map(([column, own]) => {
    const middle = median(column);
    return { from_ohm_m: 10 ** (middle - own / 2), to_ohm_m: 10 ** (middle + own / 2) };
  });
  return { leastStep_pct, trend };
}

/** What rises steadily passes through four fifths of its rise between its outer tenths. */
const FOLLOWED = 0.5;

/** Whether most of the stations rise, and not a short body near an end alone. */
function isFollowed(columns: readonly Float64Array[], rise: readonly number[]): boolean {
  const shares = zipped(columns, rise).map(
    ([column, own]) => (quantile(column, 0.9) - quantile(column, 0.1)) / Math.abs(own),
  );
  return presentMean(shares) >= FOLLOWED;
}

/** Each block's ends; its stations are `from.index` … `to.index` − 1. */
function blockParts({ chainage_m: x }: DepthSlices, boundaries: readonly Boundary[]) {
  const ends = [lineEnd(firstOf(x), 0), ...boundaries, lineEnd(lastOf(x), x.length)];
  return neighbours(ends).map(([from, to]) => ({ from, to }));
}

const lineEnd = (at_m: number, index: number): Boundary => ({
  at_m,
  interval_m: [at_m, at_m],
  index,
  probability: 1,
  nearProbability: 1,
});

function blockSlice(slice: Slice, log10: Float64Array): BlockSlice {
  return {
    top_m: slice.top_m,
    base_m: slice.base_m,
    median: 10 ** median(log10),
    p10: 10 ** quantile(log10, 0.1),
    p90: 10 ** quantile(log10, 0.9),
  };
}

function presence(columns: readonly Float64Array[]): { stations: number; masked_pct: number } {
  const present = presentStations(columns);
  const stations = present.filter(Boolean).length;
  return { stations, masked_pct: (100 * (present.length - stations)) / present.length };
}

/** n entries: true where any of the columns has a value. */
export function presentStations(columns: readonly Float64Array[]): readonly boolean[] {
  const n = columns[0]?.length ?? 0;
  return Array.from({ length: n }, (_, i) => columns.some((one) => !Number.isNaN(one[i])));
}
