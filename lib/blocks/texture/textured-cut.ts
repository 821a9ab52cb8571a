import { itemAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { cheapestCut } from "../cut/find-change-points.js";
import { mbicPrice, segmentCosts } from "../cut/segment-costs.js";
import { noiseBeforeBlocks } from "../noise/block-noise.js";
import { type GroundCut, groundCut } from "./ground-cut.js";
import type { GroundLine } from "./ground-fit.js";
import { unrelatedColumns } from "./unrelated-columns.js";

export interface TexturedColumns {
  readonly values: readonly Float64Array[];
  /** Of the same shape: standard deviations of the estimates. */
  readonly sd: readonly Float64Array[];
}

export interface TexturedOptions {
  readonly minLength: number;
  readonly spacing_m: number;
  /** Least long-run variance of each column. */
  readonly floor: readonly number[];
}

export interface TexturedCut extends GroundCut {
  /** What a step's place costs, −2 ln likelihood. */
  readonly price: number;
  readonly minLength: number;
}

/** Candidates are cut at this share of the price of "mbic". */
const CANDIDATE_PRICE = 0.3;
/** Off 2 ln n: places a few stations apart are not places of their own. */
const ALIKE_PLACES = 2.5;

/**
 * Steps of several columns in ground of unknown texture. Twice: how columns go together and how
 * large the scatter is are known once the first steps are.
 */
export function texturedCut(columns: TexturedColumns, options: TexturedOptions): TexturedCut {
  const { minLength, spacing_m, floor } = options;
  const { values } = columns;
  const present = presentIn(values);
  const count = present.filter((one) => one === 1).length;
  const price = Math.max(0, 2 * Math.log(Math.max(1, count)) - ALIKE_PLACES);
  const window = windowOf(values, minLength);
  const candidates = candidateBreaks(values, minLength);
  const line = (effectiveColumns: number, excess: Float64Array): Omit<GroundLine, "terms"> => {
    return { columns: values, effectiveColumns, excess, spacing_m, floor };
  };
  const plain = Float64Array.from(present, (one) => (one === 1 ? 0 : Number.NaN));
  const search = { minLength, price };
  const first = groundCut(line(unrelatedColumns(values, window), plain), candidates, search);
  const left = first.fits.residuals(first.fit);
  const excess = excessOf(columns.sd, first.fit.variance, plain);
  const again = line(unrelatedColumns(left, window), excess);
  return { ...groundCut(again, candidates, search), price, minLength };
}

/** 1 where every column has a value. */
function presentIn(values: readonly Float64Array[]): Uint8Array {
  const n = itemAt(values, 0).length;
  return Uint8Array.from({ length: n }, (_, i) =>
    values.some((column) => Number.isNaN(column[i])) ? 0 : 1,
  );
}

function windowOf(values: readonly Float64Array[], minLength: number): number {
  return Math.max(1, Math.min(Math.round(minLength / 2), Math.floor(itemAt(values, 0).length / 8)));
}

function candidateBreaks(values: readonly Float64Array[], minLength: number): readonly number[] {
  const { variance, effectiveColumns } = noiseBeforeBlocks(values, minLength);
  const noise = variance.map((one) => Math.max(1e-12, (one * values.length) / effectiveColumns));
  const costs = segmentCosts(values, { noise, lengthWeight: 0 });
  return cheapestCut(costs, CANDIDATE_PRICE * mbicPrice(costs), minLength).breaks;
}

/** By how much a station's variance exceeds the median one's, in the scatter's; mean of columns. */
function excessOf(
  sd: readonly Float64Array[],
  variance: readonly number[],
  plain: Float64Array,
): Float64Array {
  const usual = sd.map((column) => median(column.map((one) => one * one)));
  return plain.map((none, i) => {
    const all = zipped(sd, variance).map(([column, own], c) => {
      const more = itemAt(column, i) ** 2 - itemAt(usual, c);
      return more > 0 ? more / own : 0;
    });
    return none + all.reduce((sum, one) => sum + one, 0) / all.length;
  });
}
