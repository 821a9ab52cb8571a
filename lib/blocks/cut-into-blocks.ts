import { median } from "../numerics/robust.js";
import { type BlockNoise, noiseAboutBlocks, noiseBeforeBlocks } from "./block-noise.js";
import { type BoundaryRange, boundaryRanges } from "./boundary-intervals.js";
import { cheapestCut } from "./find-change-points.js";
import { type SegmentCosts, segmentCosts } from "./segment-cost.js";

export interface BlockCut {
  readonly breaks: readonly number[];
  readonly objective: number;
  /** The price of one break between whole columns, on the same scale as the objective. */
  readonly penalty: number;
  readonly ranges: readonly BoundaryRange[];
  readonly noise: BlockNoise;
}

export interface CutOptions {
  readonly penalty: number | "mbic";
  readonly minLength: number;
}

const PASSES = 4;

/**
 * Columns of log resistivity cut into blocks, the noise estimated about the blocks: first without
 * knowing them, then again about each cut, until the cut stands or four have been made.
 * `sd` holds the estimates' standard deviations; their median square is the least noise.
 */
export function cutIntoBlocks(
  columns: readonly Float64Array[],
  sd: readonly Float64Array[],
  options: CutOptions,
): BlockCut {
  const floor = sd.map((column) =>
    Math.max(1e-12, median(column.map((value) => value * value)) || 0),
  );
  let noise = atLeast(noiseBeforeBlocks(columns, options.minLength), floor);
  let cut = cheapestCut(
    costsOf(columns, noise, options.penalty),
    options.penalty,
    options.minLength,
  );
  for (let pass = 0; pass < PASSES; pass++) {
    const before = cut.breaks.join();
    noise = atLeast(noiseAboutBlocks(columns, cut.breaks, options.minLength), floor);
    const costs = costsOf(columns, noise, options.penalty);
    cut = cheapestCut(costs, options.penalty, options.minLength);
    if (cut.breaks.join() === before) break;
  }
  const ranges = boundaryRanges(costsOf(columns, noise, "mbic"), cut.breaks);
  return { ...cut, ranges, noise, penalty: priceOfBreak(columns, noise, options.penalty) };
}

/**
 * Correlated columns repeat each other: variances are raised by columns / effective columns, and a
 * fitted mean counts for effective columns / columns.
 */
function costsOf(
  columns: readonly Float64Array[],
  noise: BlockNoise,
  penalty: number | "mbic",
): SegmentCosts {
  const worth = noise.effectiveColumns / columns.length;
  const variance = noise.variance.map((value) => value / worth);
  return segmentCosts(columns, { noise: variance, lengthWeight: penalty === "mbic" ? worth : 0 });
}

function priceOfBreak(
  columns: readonly Float64Array[],
  noise: BlockNoise,
  penalty: number | "mbic",
): number {
  if (penalty !== "mbic") return penalty;
  const present = columns[0]!.filter((value) => !Number.isNaN(value)).length;
  return (2 + noise.effectiveColumns) * Math.log(Math.max(1, present));
}

function atLeast(noise: BlockNoise, floor: readonly number[]): BlockNoise {
  return { ...noise, variance: noise.variance.map((value, c) => Math.max(value, floor[c]!)) };
}
