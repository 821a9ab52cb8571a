import { itemAt, valueAt, zipped } from "../../numerics/arrays.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { falseDiscoveryAdjusted } from "../false-discovery.js";
import type { Significance } from "./find-significant.js";

interface GatherOptions {
  readonly q: number;
  /** Stations: gaps shorter than this are closed. */
  readonly join: number;
  /** Stations: stretches whose significant stations span less are dropped. */
  readonly minLength: number;
  /** Stations by which an end may move outward to half height. */
  readonly reach: number;
}

/** A run of stations that changed in one direction. */
export interface Stretch extends Run {
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
  const tests = found.p.reduce((sum, column) => sum + presentCount(column), 0);
  const others = new Array<number>(Math.max(0, tests - stretches.length)).fill(1);
  const adjusted = falseDiscoveryAdjusted([...stretches.map((one) => one.q), ...others]);
  return stretches
    .map((stretch, i) => ({ ...stretch, q: itemAt(adjusted, i) }))
    .filter((stretch) => stretch.q <= q);
}

/** For each station the direction of its most significant slice; 0 where none is significant. */
function stationSigns({ adjusted, difference }: Significance, q: number): Int8Array {
  const signs = new Int8Array(adjusted[0]?.length ?? 0);
  const least = new Float64Array(signs.length).fill(q);
  for (const [p, column] of zipped(adjusted, difference)) {
    for (const [i, value] of p.entries()) {
      if (!(value <= itemAt(least, i))) continue;
      least[i] = value;
      signs[i] = Math.sign(itemAt(column, i));
    }
  }
  return signs;
}

/** Stations first … last that go one way. */
interface Run {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
}

function signedRuns(signs: Int8Array, join: number): Run[] {
  const runs: Run[] = [];
  for (const [i, value] of signs.entries()) {
    if (value === 0) continue;
    const sign = value > 0 ? 1 : -1;
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
  const inRun = (columns: readonly Float64Array[]) =>
    columns.map((column) => column.subarray(first, last + 1));
  const differences = inRun(found.difference);
  const strength = zipped(differences, inRun(found.sd)).map(([column, sd]) =>
    column.reduce((sum, value, i) => sum + (sign * value || 0) / (sd[i] || 1), 0),
  );
  const strongest = strength.indexOf(Math.max(...strength));
  const slices = zipped(inRun(found.adjusted), differences).flatMap(([p, difference], k) => {
    const shown = p.filter((value, i) => value <= q && sign * itemAt(difference, i) > 0).length;
    return k === strongest || 3 * shown >= last - first + 1 ? [k] : [];
  });
  const least = inRun(found.p).flatMap((p) => [...p.filter((value) => value >= 0)]);
  return { ...run, strongest, slices, q: Math.min(...least) };
}

function trimmed(found: Significance, stretch: Stretch, reach: number): Stretch {
  const column = itemAt(found.difference, stretch.strongest);
  const height = median(column.subarray(stretch.first, stretch.last + 1));
  const high = (i: number) => valueAt(column, i) / height >= 0.5;
  let { first, last } = stretch;
  while (first < last && !high(first)) first++;
  while (last > first && !high(last)) last--;
  while (stretch.first - first < reach && high(first - 1)) first--;
  while (last - stretch.last < reach && high(last + 1)) last++;
  return { ...stretch, first, last };
}
