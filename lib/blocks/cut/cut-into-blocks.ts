import { itemAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import {
  type BlockNoise,
  independentNoise,
  noiseAboutBlocks,
  noiseBeforeBlocks,
  noiseExcess,
} from "../noise/block-noise.js";
import type { SegmentBlocksOptions } from "../options.js";
import { type TexturedCut, texturedCut } from "../texture/textured-cut.js";
import { texturedPosterior } from "../texture/textured-posterior.js";
import { type CutPosterior, cutPosterior } from "./cut-posterior.js";
import { cheapestCut } from "./find-change-points.js";
import { lengthWeightOf, type SegmentCosts } from "./segment-cost.js";
import { mbicPrice, segmentCosts } from "./segment-costs.js";

export interface BlockCut {
  readonly breaks: readonly number[];
  readonly objective: number;
  /** The price of one break between whole columns, on the same scale as the objective. */
  readonly penalty: number;
  readonly posterior: CutPosterior;
  readonly noise: BlockNoise;
  /** The costs with the length terms of "mbic", and the price of a break that goes with them. */
  readonly costs: SegmentCosts;
  readonly placePrice: number;
  /** Where the texture was told from the noise: left out at a price, with spread, independent. */
  readonly textured?: TexturedCut;
}

export interface CutOptions extends Pick<SegmentBlocksOptions, "penalty" | "change" | "noise"> {
  readonly minLength: number;
  readonly spacing_m: number;
}

/** Columns of log resistivity and, of the same shape, the standard deviations of the estimates. */
interface CutColumns {
  readonly values: readonly Float64Array[];
  readonly sd: readonly Float64Array[];
}

const PASSES = 4;

/**
 * Columns cut into blocks. At a price that is given, with spread, or with independent noise, the
 * noise estimated about the blocks: first without knowing them, then again about each cut, until
 * the cut stands or four have been made. The median square of a column's standard deviations is its
 * least noise.
 */
export function cutIntoBlocks(columns: CutColumns, options: CutOptions): BlockCut {
  const { penalty, change, noise: kind } = options;
  const isPlain = penalty === "mbic" && change === "mean" && kind === "correlated";
  return isPlain ? cutInTexture(columns, options) : cutAtPrice(columns, options);
}

/** Fewer stations do not tell a texture. */
const LEAST_STATIONS = 8;

/** Steps told from texture, ramps and wandering, the noise as about their blocks. */
function cutInTexture(columns: CutColumns, options: CutOptions): BlockCut {
  const floor = columns.sd.map(floorOf);
  const stations = columns.values[0]?.filter((value) => !Number.isNaN(value)).length ?? 0;
  if (stations < LEAST_STATIONS) return cutAtPrice(columns, options);
  const textured = texturedCut(columns, { ...options, floor });
  const breaks = textured.steps.map(({ at }) => at);
  const noise = atLeast(noiseAbout(columns.values, breaks, options), floor);
  const costs = costsOf(columns, noise, options);
  const { price: penalty, fit } = textured;
  const posterior = texturedPosterior(textured);
  const found = { breaks, objective: fit.cost, penalty, placePrice: penalty };
  return { ...found, posterior, noise, costs, textured };
}

function cutAtPrice(columns: CutColumns, options: CutOptions): BlockCut {
  const { penalty, minLength } = options;
  const floor = columns.sd.map(floorOf);
  let noise = atLeast(noiseAbout(columns.values, null, options), floor);
  let cut = cheapestCut(costsOf(columns, noise, options), penalty, minLength);
  for (let pass = 0; pass < PASSES; pass++) {
    const before = cut.breaks.join();
    noise = atLeast(noiseAbout(columns.values, cut.breaks, options), floor);
    cut = cheapestCut(costsOf(columns, noise, options), penalty, minLength);
    if (cut.breaks.join() === before) break;
  }
  const costs = costsOf(columns, noise, { ...options, penalty: "mbic" });
  const placePrice = mbicPrice(costs);
  const posterior = cutPosterior(costs, cut.breaks, {
    pricePerBreak: placePrice,
    minLength,
    excess: noiseExcess(columns.values, cut.breaks, noise),
  });
  const price = penalty === "mbic" ? placePrice + fittedPrice(costs) : penalty;
  return { ...cut, posterior, noise, costs, placePrice, penalty: price };
}

const floorOf = (sd: Float64Array) =>
  Math.max(1e-12, median(sd.map((value) => value * value)) || 0);

function noiseAbout(
  columns: readonly Float64Array[],
  breaks: readonly number[] | null,
  { minLength, noise }: CutOptions,
): BlockNoise {
  if (noise === "independent") return independentNoise(columns, breaks);
  if (breaks === null) return noiseBeforeBlocks(columns, minLength);
  return noiseAboutBlocks(columns, breaks, minLength);
}

/**
 * Correlated columns carry less information: variances are raised by columns / effective columns,
 * and a fitted value counts for effective columns / columns. With "mean and spread" the log
 * likelihood of correlated samples has a weight that is lower by the same ratio.
 */
function costsOf(
  { values, sd }: CutColumns,
  noise: BlockNoise,
  { penalty, change }: CutOptions,
): SegmentCosts {
  const columnWeight = noise.effectiveColumns / values.length;
  const lengthWeight = penalty === "mbic" ? columnWeight * lengthWeightOf(change) : 0;
  const weights = stationWeights(sd, noise.variance);
  if (change === "mean") {
    const variance = noise.variance.map((value) => value / columnWeight);
    return segmentCosts(values, { noise: variance, lengthWeight, change, ...weights });
  }
  const likelihoodWeight = zipped(noise.variance, noise.scatter).map(
    ([variance, scatter]) => columnWeight * Math.min(1, scatter / variance),
  );
  return segmentCosts(values, {
    noise: noise.scatter,
    lengthWeight,
    change,
    likelihoodWeight,
    ...weights,
  });
}

/**
 * A station whose estimate is less certain than the column's median one has a lower weight:
 * V / (V + sd² − median sd²), V being the noise variance, which holds the median one already.
 */
function stationWeights(
  sd: readonly Float64Array[],
  variance: readonly number[],
): { readonly weights?: readonly Float64Array[] } {
  const weights = zipped(sd, variance).map(([column, noise]) => {
    const squares = column.map((value) => value * value);
    const usual = median(squares);
    return squares.map((square) => noise / (noise + Math.max(0, square - usual)));
  });
  return weights.some((column) => column.some((weight) => weight < 1)) ? { weights } : {};
}

/** What the fitted values of one more block add to the price of a break. */
function fittedPrice({ lengthWeight, columns, samples, log }: SegmentCosts): number {
  return lengthWeight * columns * itemAt(log, samples);
}

function atLeast(noise: BlockNoise, floor: readonly number[]): BlockNoise {
  const raised = (values: readonly number[]) =>
    zipped(values, floor).map(([value, least]) => Math.max(value, least));
  return { ...noise, variance: raised(noise.variance), scatter: raised(noise.scatter) };
}
