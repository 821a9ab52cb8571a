import type { DepthSlices, Slice } from "../depth/depth-slices.js";
import { madScale, median, quantile } from "../numerics/robust.js";
import type { Block, BlockSlice } from "./blocks.js";
import type { Boundary } from "./boundaries.js";
import { blockClasses } from "./classes/block-classes.js";
import type { BlockNoise } from "./noise/block-noise.js";

export interface DescribeOptions {
  readonly noise: BlockNoise;
  readonly classDistance: number;
}

/** The blocks between the boundaries, with their resistivities by slice and their classes. */
export function describeBlocks(
  given: DepthSlices,
  boundaries: readonly Boundary[],
  { noise, classDistance }: DescribeOptions,
): readonly Block[] {
  const reliable = given.slices
    .map((slice, k) => ({ slice, k }))
    .filter(({ slice }) => slice.reliable);
  const parts = blockParts(given, boundaries).map((part) => ({
    ...part,
    columns: reliable.map(({ k }) => given.log10Resistivity[k]!.subarray(part.first, part.last)),
  }));
  const classes = blockClasses(
    {
      level: parts.map(({ columns }) => columns.map(median)),
      variance: parts.map(({ columns }) => columns.map((c, k) => noise.variance[k]! / count(c))),
    },
    { classDistance, effectiveColumns: noise.effectiveColumns },
  );
  return parts.map(({ from, to, columns }, b) => ({
    id: `B${b + 1}`,
    from_m: from.at_m,
    to_m: to.at_m,
    fromInterval_m: from.interval_m,
    toInterval_m: to.interval_m,
    class: classes[b]!.letter,
    resistivity_ohm_m: reliable.map(({ slice }, c) => blockSlice(slice, columns[c]!)),
    ...presence(columns),
    fromProbability: from.probability,
    fromNearProbability: from.nearProbability,
    classProbability: classes[b]!.probability,
    heterogeneity: heterogeneity(columns),
  }));
}

/** Each block's ends and its stations, first … last − 1. */
function blockParts(given: DepthSlices, boundaries: readonly Boundary[]) {
  const n = given.chainage_m.length;
  const ends = [
    lineEnd(given.chainage_m[0]!, 0),
    ...boundaries,
    lineEnd(given.chainage_m[n - 1]!, n),
  ];
  return ends
    .slice(1)
    .map((to, b) => ({ from: ends[b]!, to, first: ends[b]!.index, last: to.index }));
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

/** Root mean square over the slices of the robust scatter about the median, decades. */
function heterogeneity(columns: readonly Float64Array[]): number {
  const squares = columns.map((column) => madScale(column) ** 2).filter((v) => !Number.isNaN(v));
  return Math.sqrt(squares.reduce((sum, value) => sum + value, 0) / squares.length);
}

const count = (column: Float64Array) =>
  column.reduce((sum, value) => sum + (Number.isNaN(value) ? 0 : 1), 0);

function presence(columns: readonly Float64Array[]): { stations: number; masked_pct: number } {
  const count = columns[0]!.length;
  let stations = 0;
  for (let i = 0; i < count; i++) {
    if (columns.some((column) => !Number.isNaN(column[i]!))) stations++;
  }
  return { stations, masked_pct: (100 * (count - stations)) / count };
}
