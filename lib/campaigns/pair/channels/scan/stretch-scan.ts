import { chiSquareTail } from "../../../../numerics/statistics/chi-square.js";
import { quantile } from "../../../../numerics/statistics/robust.js";
import type { GroundScores } from "./ground-scores.js";
import { inflations, MEDIAN } from "./stretch-noise.js";
import { addSquares, quadratic, summed, sums } from "./stretch-sums.js";

/** Stations first … last, tested for a change of the ground. */
export interface ScannedStretch {
  readonly first: number;
  readonly last: number;
  /** Likelihood ratio (2 ln) over what the noise of the line gives stretches of that length. */
  readonly ratio: number;
  /** p-value of the ratio times the stretches that were tried, at most 1. */
  readonly p: number;
}

export interface ScanOptions {
  /** Stations. */
  readonly least: number;
  /** Standard deviation of misplacement that alignment does not know of, m. */
  readonly mismatch_m: number;
  /** n entries: 1 where the line has been explained; no stretch that is looked for enters. */
  readonly taken: Uint8Array;
  /** n entries: 1 where the ground changed; such stations tell nothing of the noise. */
  readonly changed: Uint8Array;
  /** Standard deviation of the coils' height over a stretch, as one person carries them, m. */
  readonly height_m: number;
  /** Relative error of an offset's effect. */
  readonly offsetError: number;
}

/** The scan of one line: how much the noise of stretches grows with their length, and tests. */
export class StretchScan {
  readonly lengths: readonly number[];
  private readonly inflation: Float64Array;
  private readonly tried: number;
  /** Columns that are written over from one stretch to the next. */
  private readonly work: {
    readonly matrix: Float64Array;
    readonly score: Float64Array;
    readonly byChannel: Float64Array;
  };

  constructor(
    private readonly scores: GroundScores,
    private readonly options: ScanOptions,
  ) {
    const { k, q } = scores;
    const [matrix, score] = [new Float64Array(k * k), new Float64Array(k)];
    this.work = { matrix, score, byChannel: new Float64Array(q * k) };
    this.lengths = scanLengths(scores.n, options.least);
    this.inflation = inflations(
      this.lengths.map((length) => ({ length, ...this.noiseOf(length) })),
    );
    this.tried = this.lengths.reduce((sum, length) => sum + this.starts(length).length, 0);
  }

  /** Variance of a mean over so many stations, over that of independent stations. */
  inflationAt(length: number): number {
    const { lengths, inflation } = this;
    const above = lengths.findIndex((one) => one >= length);
    if (above < 0) return inflation.at(-1) ?? 1;
    if (above === 0) return inflation[0] ?? 1;
    const [low, high] = [lengths[above - 1]!, lengths[above]!];
    const share = Math.log(length / low) / Math.log(high / low);
    return inflation[above - 1]! + share * (inflation[above]! - inflation[above - 1]!);
  }

  /** The stretch that stands out most, its ends where the likelihood is greatest; null for none. */
  best(): Nominee | null {
    let best = { first: 0, last: -1, ratio: 0 };
    for (const length of this.lengths) {
      for (const first of this.starts(length)) {
        const last = first + length - 1;
        const ratio = this.counts(first, last) ? this.ratioOf(first, last) : 0;
        if (ratio > best.ratio) best = { first, last, ratio };
      }
    }
    const found = best.ratio > 0 ? this.tested(best.first, best.last) : null;
    return found === null ? null : this.withBestEnds(found);
  }

  /** A nominee by the better test of the stretch that was tried and that with its likely ends. */
  testedNominee({ first, last, core }: Nominee): ScannedStretch | null {
    const tests = [this.tested(first, last), this.tested(core.first, core.last)];
    const [better] = tests.filter((one) => one !== null).sort((a, b) => b.ratio - a.ratio);
    return better === undefined ? null : { ...better, first, last };
  }

  tested(first: number, last: number): ScannedStretch | null {
    if (!this.counts(first, last)) return null;
    const ratio = this.ratioOf(first, last);
    const p = Math.min(1, this.tried * chiSquareTail(ratio, this.scores.k));
    return { first, last, ratio, p };
  }

  /** Whether half of a stretch has weight. */
  private counts(first: number, last: number): boolean {
    const { k, weight } = this.scores;
    return k > 0 && weight[last + 1]! - weight[first]! >= (last - first + 1) / 2;
  }

  private ratioOf(first: number, last: number): number {
    const { scores, work } = this;
    const error = this.errorOf(first, last);
    return quadratic(error, sums(scores.score, { k: scores.k, first, last }, work.score));
  }

  /**
   * Length over its error, √(δᵀ E⁻¹ δ), that a change of a stretch's score has to have to be found in
   * nine of ten at an error rate `q` of the line: √(T − k + 1) + 1.28, T the likelihood ratio from which
   * on p is q and k its degrees of freedom (noncentral chi-square, by its component along δ). Infinite
   * where the readings hold no score.
   */
  strengthNeeded(q: number): number {
    const { k } = this.scores;
    if (k === 0) return Number.POSITIVE_INFINITY;
    let [low, high] = [0, 1000];
    for (let round = 0; round < 40; round++) {
      const middle = (low + high) / 2;
      if (this.tried * chiSquareTail(middle, k) > q) low = middle;
      else high = middle;
    }
    return Math.sqrt(Math.max(0, high - k + 1)) + POWER_90;
  }

  /**
   * k × k covariance of the score of a stretch where nothing changed; written over by the next stretch.
   */
  errorOf(first: number, last: number): Float64Array {
    const { scores, options, work } = this;
    const { k } = scores;
    const length = last - first + 1;
    const own = scores.weight[last + 1]! - scores.weight[first]!;
    const others = scores.weight[scores.n]! - own;
    // What the stretch is compared with, the level of the others, has an error too.
    const inflation = this.inflationAt(length) * (1 + own / Math.max(others, own));
    const matrix = sums(scores.information, { k: k * k, first, last }, work.matrix);
    for (let at = 0; at < k * k; at++) matrix[at]! *= inflation;
    const shift_m = (scores.shiftSd_m[last + 1]! - scores.shiftSd_m[first]!) / length;
    const misplaced = Math.hypot(shift_m, options.mismatch_m);
    const stretch = { k, first, last };
    const byChannel = { k: scores.q * k, first, last };
    const add = (columns: Float64Array, size: number) => addSquares(matrix, k, { columns, size });
    const { score: column } = work;
    add(summed(scores.slope, stretch, column), misplaced);
    add(sums(scores.removed, stretch, column), options.offsetError);
    add(sums(scores.offsetError, byChannel, work.byChannel), 1);
    add(sums(scores.season, stretch, column), 1);
    add(sums(scores.height, stretch, column), options.height_m);
    return matrix;
  }

  /** Starts of stretches of a length that meet nothing taken. */
  private starts(length: number): readonly number[] {
    const { n } = this.scores;
    const step = Math.max(1, Math.floor(length / 8));
    const found: number[] = [];
    for (let first = 0; first + length <= n; first += step) {
      if (!this.meetsTaken(first, first + length - 1)) found.push(first);
    }
    return found;
  }

  private meetsTaken(first: number, last: number): boolean {
    return hasOne(this.options.taken, first, last);
  }

  private isStable(first: number, last: number): boolean {
    return !this.meetsTaken(first, last) && !hasOne(this.options.changed, first, last);
  }

  /** Likelihood ratios of all stretches of a length, by their median over that of their law. */
  private noiseOf(length: number): { readonly scale: number; readonly windows: number } {
    const { scores } = this;
    const values: number[] = [];
    let stations = 0;
    const step = Math.max(1, Math.floor(length / 8));
    for (let first = 0; first + length <= scores.n; first += step) {
      const last = first + length - 1;
      const weight = scores.weight[last + 1]! - scores.weight[first]!;
      if (!(weight >= 0.8 * length) || !this.isStable(first, last)) continue;
      stations += step;
      values.push(this.independentRatio(first, last).ratio);
    }
    const windows = values.length === 0 ? 0 : (stations + length - step) / length;
    return { scale: quantile(values, 0.5) / MEDIAN[scores.k - 1]!, windows };
  }

  /** The ends of greatest likelihood for independent stations; the test stays that of the scan. */
  private withBestEnds(start: ScannedStretch): Nominee {
    const strength = this.strength(start.first, start.last);
    let ends: Ends = { first: start.first, last: start.last, strength };
    for (let round = 0; round < END_ROUNDS; round++) {
      const { first, last } = ends;
      const reach = Math.max(4, Math.round((last - first + 1) / 2));
      for (let a = first - reach; a <= last - this.options.least + 1; a++) {
        ends = this.better(ends, a, last);
      }
      const from = ends.first;
      for (let b = from + this.options.least - 1; b <= last + reach; b++) {
        ends = this.better(ends, from, b);
      }
      if (ends.first === first && ends.last === last) break;
    }
    return { first: ends.first, last: ends.last, core: start };
  }

  private better(ends: Ends, first: number, last: number): Ends {
    if (first < 0 || last >= this.scores.n || this.meetsTaken(first, last)) return ends;
    const strength = this.strength(first, last);
    return strength > ends.strength ? { first, last, strength } : ends;
  }

  private strength(first: number, last: number): number {
    const { ratio, isKnown } = this.independentRatio(first, last);
    return isKnown ? ratio : 0;
  }

  /** Likelihood ratio of a stretch for independent stations. */
  private independentRatio(first: number, last: number) {
    const { k, score, information } = this.scores;
    const { work } = this;
    const matrix = sums(information, { k: k * k, first, last }, work.matrix);
    const isKnown = matrix[0]! > 0;
    const ratio = quadratic(matrix, sums(score, { k, first, last }, work.score));
    return { ratio, isKnown };
  }
}

function hasOne(flags: Uint8Array, first: number, last: number): boolean {
  for (let i = first; i <= last; i++) if (flags[i] === 1) return true;
  return false;
}

/** A stretch that stands out: where it likely ends, and the stretch that was tried. */
export interface Nominee {
  readonly first: number;
  readonly last: number;
  readonly core: ScannedStretch;
}

interface Ends {
  readonly first: number;
  readonly last: number;
  readonly strength: number;
}

const END_ROUNDS = 6;

/** Nine in ten: normal deviate. */
const POWER_90 = 1.2816;

/** Each a third longer than the one before, up to half of the line. */
function scanLengths(n: number, least: number): readonly number[] {
  const lengths: number[] = [];
  for (let length = Math.max(2, least); length <= n / 2; length = Math.ceil(length * 1.33)) {
    lengths.push(length);
  }
  return lengths;
}
