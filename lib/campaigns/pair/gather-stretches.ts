import { median } from "../../numerics/robust.js";
import { falseDiscoveryAdjusted } from "../false-discovery.js";
import type { Significance } from "./find-significant.js";

export interface GatherOptions {
  readonly q: number;
  /** Stations: gaps shorter than this are closed. */
  readonly join: number;
  /** Stations: stretches whose significant stations span less are dropped. */
  readonly minLength: number;
  /** Stations by which an end may move outward to half height. */
  readonly reach: number;
}

/** A run of stations, first … last, that changed in one direction. */
export interface Stretch {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
  /** The slice in which the change stands out most. */
  readonly strongest: number;
  /** All slices in which it shows. */
  readonly slices: readonly number[];
  /** Least p-value of its stations and slices; in the end adjusted for false discoveries. */
  readonly q: number;
}

/**
 * Gathers significant stations into stretches. A station takes the direction of its most
 * significant slice; runs of one direction are joined over short gaps; each end is put where the
 * smoothed difference of the stretch's strongest slice passes half of its height within the
 * stretch, because a moving mean smears a sharp end evenly to both sides of that.
 *
 * Then each stretch has to stand by itself. A long true change lets so many stations through that
 * a share of false ones could make a stretch elsewhere; so the stretches' least p-values are
 * adjusted once more, each for as many tests as there were stations and slices.
 */
export function gatherStretches(found: Significance, options: GatherOptions): Stretch[] {
  const stretches: Stretch[] = [];
  for (const run of signedRuns(stationSigns(found, options.q), options.join)) {
    if (run.last - run.first + 1 < options.minLength) continue;
    const stretch = trimmed(found, describeRun(found, run, options.q), options.reach);
    const previous = stretches.at(-1);
    const overlap = previous !== undefined && stretch.first <= previous.last;
    const first = overlap ? previous.last + 1 : stretch.first;
    if (stretch.last >= first) stretches.push({ ...stretch, first });
  }
  return significantStretches(found, stretches, options.q);
}

/** The i-th smallest of the least p-values is adjusted to min over j ≥ i of p × tests / j. */
function significantStretches(found: Significance, stretches: Stretch[], q: number): Stretch[] {
  const tests = found.p.reduce((sum, column) => sum + column.filter((p) => p >= 0).length, 0);
  const others = new Array<number>(Math.max(0, tests - stretches.length)).fill(1);
  const adjusted = falseDiscoveryAdjusted([...stretches.map((one) => one.q), ...others]);
  return stretches
    .map((stretch, i) => ({ ...stretch, q: adjusted[i]! }))
    .filter((stretch) => stretch.q <= q);
}

/** For each station the direction of its most significant slice; 0 where none is significant. */
function stationSigns({ adjusted, difference }: Significance, q: number): Int8Array {
  const n = adjusted[0]?.length ?? 0;
  const signs = new Int8Array(n);
  for (let i = 0; i < n; i++) {
    let least = q;
    for (let k = 0; k < adjusted.length; k++) {
      if (!(adjusted[k]![i]! <= least)) continue;
      least = adjusted[k]![i]!;
      signs[i] = Math.sign(difference[k]![i]!);
    }
  }
  return signs;
}

interface Run {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
}

function signedRuns(signs: Int8Array, join: number): Run[] {
  const runs: Run[] = [];
  for (let i = 0; i < signs.length; i++) {
    if (signs[i] === 0) continue;
    const sign = signs[i] as 1 | -1;
    const previous = runs.at(-1);
    const near = previous !== undefined && i - previous.last - 1 < Math.max(1, join);
    if (near && previous.sign === sign) runs[runs.length - 1] = { ...previous, last: i };
    else runs.push({ first: i, last: i, sign });
  }
  return runs;
}

/** The strongest slice is that with the greatest sum of standardised differences in the run. */
function describeRun(found: Significance, run: Run, q: number): Stretch {
  const { first, last, sign } = run;
  const length = last - first + 1;
  const strength = found.difference.map((column, k) => {
    let sum = 0;
    for (let i = first; i <= last; i++) sum += (sign * column[i]! || 0) / (found.sd[k]![i]! || 1);
    return sum;
  });
  const strongest = strength.indexOf(Math.max(...strength));
  const shows = found.adjusted.map((column, k) => {
    let count = 0;
    for (let i = first; i <= last; i++) {
      if (column[i]! <= q && sign * found.difference[k]![i]! > 0) count++;
    }
    return k === strongest || 3 * count >= length;
  });
  const least = found.p.flatMap((column) =>
    Array.from(column.subarray(first, last + 1)).filter((value) => value >= 0),
  );
  const slices = shows.flatMap((show, k) => (show ? [k] : []));
  return { ...run, strongest, slices, q: Math.min(...least) };
}

function trimmed(found: Significance, stretch: Stretch, reach: number): Stretch {
  const column = found.difference[stretch.strongest]!;
  const height = median(column.subarray(stretch.first, stretch.last + 1));
  const high = (i: number) => column[i]! / height >= 0.5;
  let { first, last } = stretch;
  while (first < last && !high(first)) first++;
  while (last > first && !high(last)) last--;
  while (stretch.first - first < reach && high(first - 1)) first--;
  while (last - stretch.last < reach && high(last + 1)) last++;
  return { ...stretch, first, last };
}
