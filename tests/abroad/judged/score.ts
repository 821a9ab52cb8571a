import { meanLog10 } from "../ground/columns.js";
import type { Truth } from "../truth.js";

/** What is judged of an estimate of resistivity by depth; a subset of the library's DepthSlices. */
export interface Estimate {
  readonly chainage_m: ArrayLike<number>;
  readonly spacing_m: number;
  readonly slices: readonly SliceOf[];
  /** For each slice, n values of log10(ohm-m); NaN in gaps. */
  readonly log10Resistivity: readonly ArrayLike<number>[];
  readonly sd: readonly ArrayLike<number>[];
  /** For each slice, n bounds of the 80 % interval, log10(ohm-m); those by `sd` where left out. */
  readonly p10?: readonly ArrayLike<number>[];
  readonly p90?: readonly ArrayLike<number>[];
  readonly reliableTo_m: number;
}

interface SliceOf {
  readonly top_m: number;
  readonly base_m: number;
  readonly reliable: boolean;
}

/**
 * One slice of one survey. Errors of neighbours go together, and zero, gain and height are the whole
 * survey's: a survey counts as little more than one draw, so judge `held` over many surveys.
 */
export interface SliceScore {
  readonly top_m: number;
  readonly base_m: number;
  readonly reliable: boolean;
  readonly stations: number;
  /** Share of stations whose 80 % interval holds the truth. */
  readonly held: number;
  /** Median |estimate − truth|, log10. */
  readonly error: number;
  /** Median of the estimate less the truth, log10. */
  readonly bias: number;
  /** Median standard deviation that the estimate states, log10. */
  readonly sd: number;
}

/** The part of a layered model that is judged between depths of one's own. */
export interface Layers {
  /** m tops. */
  readonly top_m: ArrayLike<number>;
  /** n × m, row by station. */
  readonly log10Resistivity: ArrayLike<number>;
}

/** Half the width of a normal distribution's central 80 %, in standard deviations. */
const HALF_80 = 1.2816;

export interface TruthPlace {
  /** Default 0, the first. */
  readonly campaign?: number;
  /** Default "crest". */
  readonly line?: string;
}

/** Every slice against the truth, meant over the station's length of bank. */
export function scoreSlices(
  estimate: Estimate,
  truth: Truth,
  place: TruthPlace = {},
): readonly SliceScore[] {
  return estimate.slices.map(({ top_m, base_m, reliable }, k) => {
    const errors: number[] = [];
    const sds: number[] = [];
    let held = 0;
    for (let i = 0; i < estimate.chainage_m.length; i++) {
      const value = estimate.log10Resistivity[k]![i]!;
      if (Number.isNaN(value)) continue;
      const along = stationPlaces(estimate.chainage_m[i]!, estimate.spacing_m);
      const told = along.map((chainage_m) =>
        truth.meanLog10({ ...place, chainage_m }, top_m, base_m),
      );
      const error = value - mean(told);
      const sd = estimate.sd[k]![i]!;
      const low = estimate.p10?.[k]?.[i] ?? value - HALF_80 * sd;
      const high = estimate.p90?.[k]?.[i] ?? value + HALF_80 * sd;
      if (mean(told) >= low && mean(told) <= high) held++;
      errors.push(error);
      sds.push(sd);
    }
    const stations = errors.length;
    const size = median(errors.map(Math.abs));
    const common = { top_m, base_m, reliable, stations, held: held / stations };
    return { ...common, error: size, bias: median(errors), sd: median(sds) };
  });
}

/**
 * Median |error| of the layered model between two depths, log10, whatever the slices and whether
 * reliable or not: the same measure for estimates that cut their slices differently.
 */
export function errorBetween(
  { chainage_m, layers }: { readonly chainage_m: ArrayLike<number>; readonly layers: Layers },
  truth: Truth,
  [from_m, to_m]: readonly [number, number],
): number {
  const top_m = Array.from(layers.top_m);
  const errors = Array.from(chainage_m, (x, i) => {
    const log10 = top_m.map((_, j) => layers.log10Resistivity[i * top_m.length + j]!);
    const told = truth.meanLog10({ chainage_m: x }, from_m, to_m);
    return Math.abs(meanLog10({ top_m, log10 }, from_m, to_m) - told);
  });
  return median(errors.filter((error) => !Number.isNaN(error)));
}

const PLACES = [-0.4, -0.2, 0, 0.2, 0.4];

const stationPlaces = (chainage_m: number, spacing_m: number) =>
  PLACES.map((part) => chainage_m + part * spacing_m);

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** NaN of nothing. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  if (sorted.length % 2 === 1) return sorted[middle]!;
  return (sorted[middle - 1]! + sorted[middle]!) / 2;
}
