import type { Seepage } from "../lib.js";
import type { JudgedBank } from "./judged-bank.js";

/** A forecast and what it was of. */
export interface Forecast {
  readonly score: number;
  readonly probability: number;
  readonly isWeak: boolean;
}

/** Of the score, or of another sum of the pieces' weights. */
export function forecastsOf(
  banks: readonly JudgedBank[],
  scoreOf: (seepage: Seepage) => Float64Array = ({ score }) => score,
): readonly Forecast[] {
  return banks.flatMap(({ seepage, truth }) =>
    Array.from(scoreOf(seepage), (score, i): Forecast[] => {
      const probability = 1 / (1 + Math.exp(-score));
      return Number.isNaN(truth[i]!) ? [] : [{ score, probability, isWeak: truth[i] === 1 }];
    }).flat(),
  );
}

/** Area under the curve of hits over false alarms: the chance that a weak cell outranks another. */
export function areaUnderCurve(forecasts: readonly Forecast[]): number {
  const sorted = forecasts.toSorted((one, other) => one.score - other.score);
  let [sum, i] = [0, 0];
  while (i < sorted.length) {
    let j = i;
    while (sorted[j + 1]?.score === sorted[i]!.score) j++;
    for (let k = i; k <= j; k++) if (sorted[k]!.isWeak) sum += (i + j) / 2 + 1;
    i = j + 1;
  }
  const weak = forecasts.filter(({ isWeak }) => isWeak).length;
  return (sum - (weak * (weak + 1)) / 2) / (weak * (forecasts.length - weak));
}

/** Mean square of probability less truth. */
export function brierScore(forecasts: readonly Forecast[]): number {
  const squares = forecasts.map(({ probability, isWeak }) => (probability - (isWeak ? 1 : 0)) ** 2);
  return squares.reduce((sum, one) => sum + one, 0) / forecasts.length;
}

export interface ReliabilityClass {
  readonly cells: number;
  readonly said: number;
  readonly seen: number;
}

/** What was said beside what was seen, by class of probability. */
export function reliability(
  forecasts: readonly Forecast[],
  edges: readonly number[],
): readonly ReliabilityClass[] {
  return edges.slice(1).map((edge, k) => {
    const here = forecasts.filter(
      ({ probability }) => probability >= edges[k]! && probability < edge,
    );
    const mean = (of: (one: Forecast) => number) =>
      here.reduce((sum, one) => sum + of(one), 0) / here.length;
    return {
      cells: here.length,
      said: mean(({ probability }) => probability),
      seen: mean(({ isWeak }) => (isWeak ? 1 : 0)),
    };
  });
}

/** Jackknife deviation of a figure over cells of banks, as from so many banks that differ. */
export function deviation(
  banks: readonly JudgedBank[],
  of: (some: readonly JudgedBank[]) => number,
): number {
  const left = banks
    .map((_, i) => of(banks.toSpliced(i, 1)))
    .filter((value) => !Number.isNaN(value));
  const mean = left.reduce((sum, one) => sum + one, 0) / left.length;
  const squares = left.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  return Math.sqrt(((left.length - 1) / left.length) * squares);
}
