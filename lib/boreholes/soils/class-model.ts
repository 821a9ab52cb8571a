import { itemAt, valueAt } from "../../numerics/arrays.js";
import { likeness, type SoilPlace, sameGround } from "./soil-kernel.js";

/** Shares of each kind of soil, one column a kind, at places in boreholes. */
export interface ClassSamples {
  readonly places: readonly SoilPlace[];
  /** For each sample, k shares that add up to 1. */
  readonly shares: readonly (readonly number[])[];
  readonly borehole: readonly string[];
}

/** How much the kinds met nearby count before resistivity is heard: in samples. */
interface Neighbourhood {
  readonly strength: number;
  readonly range_m: number;
}

/** Every neighbourhood that is tried; the first takes none. */
const NEIGHBOURHOODS: readonly Neighbourhood[] = [
  { strength: 0, range_m: 1 },
  ...[1, 4].flatMap((strength) => [40, 150, 600].map((range_m) => ({ strength, range_m }))),
];

/**
 * What a sample of the same ground counts, all the way to it: that is of one make. Leaving boreholes
 * out cannot tell it where no such stretch has two, so it is held. Of a bed above or below it counts
 * to 1/e over this distance.
 */
const SAME_GROUND = 40;
const SAME_BED_M = 0.7;

/** The resistivities of a kind, before it is met: one sample's worth of the mean of all. */
const SHRINK = 0.5;
/**
 * Scatter of log10 resistivity within a kind, held before any sample, and for how many it counts.
 */
const SCATTER = 0.15;
const SCATTER_COUNT = 2;

export interface ClassModel {
  /** k probabilities at another place. */
  readonly at: (place: SoilPlace) => readonly number[];
  /** For each sample, the k probabilities by the other boreholes alone. */
  readonly leftOut: readonly (readonly number[])[];
}

/**
 * Probability of each kind of soil: its share among the samples nearby, and of all, times the
 * normal density of the place's log10 resistivity among that kind. How much the neighbourhood
 * counts is averaged by how well each borehole is told by the others.
 * Source: Fisher 1936; Hastie, Tibshirani & Friedman 2009, section 4.3 (discriminant analysis);
 *   Geisser & Eddy 1979, JASA 74, 153–160 (weights by leaving out).
 */
export function classModel(samples: ClassSamples): ClassModel {
  const rows = samples.places.map((_, i) => i);
  const others = rows.map((i) => {
    const kept = rows.filter((j) => samples.borehole[j] !== samples.borehole[i]);
    const density = densityOf(samples, kept);
    return (hood: Neighbourhood) =>
      probabilities(samples, kept, { place: itemAt(samples.places, i), hood, density });
  });
  const scores = NEIGHBOURHOODS.map((hood) =>
    rows.reduce((sum, i) => sum + score(itemAt(samples.shares, i), itemAt(others, i)(hood)), 0),
  );
  const best = Math.max(...scores);
  const raw = scores.map((one) => Math.exp(one - best));
  const total = raw.reduce((sum, one) => sum + one, 0);
  const mean = (of: (hood: Neighbourhood) => readonly number[]) => {
    const told = NEIGHBOURHOODS.map(of);
    return itemAt(told, 0).map((_, c) =>
      told.reduce((sum, one, h) => sum + (itemAt(raw, h) / total) * itemAt(one, c), 0),
    );
  };
  const density = densityOf(samples, rows);
  return {
    at: (place) => mean((hood) => probabilities(samples, rows, { place, hood, density })),
    leftOut: others.map((of) => mean(of)),
  };
}

/** Logarithmic score of probabilities against shares. */
function score(shares: readonly number[], told: readonly number[]): number {
  return shares.reduce((sum, share, c) => sum + share * Math.log(itemAt(told, c)), 0);
}

type Density = (log10Resistivity: number) => readonly number[];

/** Logarithms of the predictive density of a kind's log10 resistivity, one a kind. */
function densityOf({ places, shares }: ClassSamples, rows: readonly number[]): Density {
  const k = shares[0]?.length ?? 0;
  const x = (i: number) => itemAt(places, i).log10Resistivity;
  const share = (i: number, c: number) => itemAt(itemAt(shares, i), c);
  const middle = rows.reduce((sum, i) => sum + x(i), 0) / rows.length;
  const count = new Float64Array(k);
  const mean = new Float64Array(k);
  for (let c = 0; c < k; c++) {
    count[c] = SHRINK + rows.reduce((sum, i) => sum + share(i, c), 0);
    const sum = rows.reduce((all, i) => all + share(i, c) * x(i), SHRINK * middle);
    mean[c] = sum / valueAt(count, c);
  }
  let square = SCATTER_COUNT * SCATTER ** 2;
  for (const i of rows) {
    for (let c = 0; c < k; c++) square += share(i, c) * (x(i) - valueAt(mean, c)) ** 2;
  }
  const variance = square / (SCATTER_COUNT + rows.length);
  return (log10Resistivity) =>
    Array.from(mean, (own, c) => {
      const wide = variance * (1 + 1 / valueAt(count, c));
      return -0.5 * (Math.log(wide) + (log10Resistivity - own) ** 2 / wide);
    });
}

interface Asked {
  readonly place: SoilPlace;
  readonly hood: Neighbourhood;
  readonly density: Density;
}

/** Count of a kind before any sample, and how much a sample counts wherever it is. */
const PRIOR = 0.25;
const EVERYWHERE = 0.2;
/** No kind that was met is ever ruled out. */
const LEAST = 0.01;

function probabilities(
  { places, shares }: ClassSamples,
  rows: readonly number[],
  { place, hood, density }: Asked,
): readonly number[] {
  const logs = density(place.log10Resistivity);
  const k = logs.length;
  const prior = new Float64Array(k).fill(PRIOR);
  for (const i of rows) {
    const own = itemAt(shares, i);
    const count = EVERYWHERE + nearWeight(place, itemAt(places, i), hood);
    for (let c = 0; c < k; c++) prior[c] = valueAt(prior, c) + count * itemAt(own, c);
  }
  const most = Math.max(...logs);
  const raw = logs.map((log, c) => valueAt(prior, c) * Math.exp(log - most));
  const total = raw.reduce((sum, one) => sum + one, 0);
  return raw.map((one) => LEAST / k + (1 - LEAST) * (one / total));
}

function nearWeight(place: SoilPlace, other: SoilPlace, hood: Neighbourhood): number {
  const { depth, apart_m: along_m } = likeness(place, other);
  const near = hood.strength === 0 ? 0 : hood.strength * Math.exp(-along_m / hood.range_m);
  const apart_m = Math.abs(place.depth_m - other.depth_m);
  const same = SAME_GROUND * Math.exp(-apart_m / SAME_BED_M) * sameGround(place, other);
  return same + depth * near;
}
