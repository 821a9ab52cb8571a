import { type Corner, outlineThrough } from "../earth/embankment/outline.js";
import { type EmbankmentShape, shapeFaults } from "../earth/embankment/shape.js";
import { alongStrike, type WavenumberSamples } from "../earth/embankment/strike-transform.js";
import { geometricFactor, type Spread, spreadFaults } from "../earth/spread.js";
import { entryOf, firstOf, zipped } from "../numerics/arrays.js";
import { StepError } from "../step/step-error.js";
import { secondaryAt, surfaceField } from "./surface-field.js";

/**
 * Apparent over true resistivity of a homogeneous embankment, for a line along its crest.
 *
 * The ratio of Σ ± V over the four pairs of electrodes on the embankment and on flat ground. The
 * potential is found in the cross-section for each wavenumber along strike from Green's identity on
 * the ground surface (no current passes it), and brought back by V(y) = (2/π) ∫ φ(k) cos(k y) dk.
 *
 * `shape`: the cross-section, m, the same all along, on level ground that goes on for ever.
 * `spread`: positions of A, B (current) and M, N (potential) along the line, m; `Infinity` is
 * remote. Nothing may be missing: NaN is a fault. Returns a number without unit; 1 for `height_m`
 * 0.
 *
 * Limits: one resistivity throughout, no water beside the embankment, a straight line. Accurate to
 * about 2e-4, at the very edge of a steep side to 2e-3. A line nearer to an edge than 0.2 % of the
 * shortest distance between a current and a potential electrode is taken to run at that distance
 * from it. A division of readings by the factor is exact for homogeneous ground only. Throws
 * StepError with every fault.
 *
 * Source: Green's identity and the cosine transform as in Dey & Morrison 1979; potential of a
 * source on a wedge: Keller & Frischknecht 1966.
 *
 * @example
 * embankmentFactor(
 *   { crestWidth_m: 4, height_m: 4, watersideSlope: 3, landsideSlope: 3, offset_m: 0 },
 *   { a_m: 0, m_m: 5, n_m: 10, b_m: 15 },
 * ); // 1.1191
 */
export function embankmentFactor(shape: EmbankmentShape, spread: Spread): number {
  const faults = [...shapeFaults(shape), ...spreadFaults(spread)];
  if (faults.length > 0) throw new StepError("embankmentFactor", faults);
  return firstOf(factors(shape, [spread]));
}

/**
 * The `embankmentFactor` of each of many spreads along one line, in their order, at the cost of
 * one. Throws StepError with every fault; a fault of a spread names it by its place in the list.
 *
 * @example
 * const shape =
 *   { crestWidth_m: 4, height_m: 4, watersideSlope: 3, landsideSlope: 3, offset_m: 0 };
 * embankmentFactors(shape, [
 *   { a_m: 0, m_m: 5, n_m: 10, b_m: 15 },
 *   { a_m: 0, m_m: 10, n_m: 20, b_m: 30 },
 * ]); // [1.1191, 1.1790]
 */
export function embankmentFactors(shape: EmbankmentShape, spreads: readonly Spread[]): number[] {
  const faults = shapeFaults(shape);
  for (const [i, spread] of spreads.entries()) {
    for (const fault of spreadFaults(spread)) {
      faults.push({ ...fault, path: fault.path.replace(/^spread/, `spreads[${i}]`) });
    }
  }
  if (faults.length > 0) throw new StepError("embankmentFactors", faults);
  return factors(shape, spreads);
}

function factors(shape: EmbankmentShape, spreads: readonly Spread[]): number[] {
  if (shape.height_m === 0 || spreads.length === 0) return spreads.map(() => 1);
  const pairs = spreads.map(finitePairs);
  const distances = [...new Set(pairs.flat().map(({ distance_m }) => distance_m))];
  const samples = secondarySamples(shape, distances);
  const secondary = new Map(distances.map((y) => [y, alongStrike(samples, y)]));
  return zipped(pairs, spreads).map(([four, spread]) => {
    const extra = four.reduce(
      (sum, pair) => sum + pair.sign * entryOf(secondary, pair.distance_m),
      0,
    );
    return 1 + (extra * geometricFactor(spread)) / (2 * Math.PI);
  });
}

interface Pair {
  readonly distance_m: number;
  readonly sign: number;
}

function finitePairs({ a_m, b_m, m_m, n_m }: Spread): Pair[] {
  const pairs = [
    { distance_m: Math.abs(a_m - m_m), sign: 1 },
    { distance_m: Math.abs(b_m - m_m), sign: -1 },
    { distance_m: Math.abs(a_m - n_m), sign: -1 },
    { distance_m: Math.abs(b_m - n_m), sign: 1 },
  ];
  return pairs.filter(({ distance_m }) => Number.isFinite(distance_m));
}

/** Of the wavenumbers, in ln k. */
const STEP = 0.3;
/** A line is kept this share of the shortest distance away from the crest's edges. */
const EDGE_SHARE = 0.002;
/** The smallest panel at a corner, as a share of the nearest feature. */
const PANEL_SHARE = 0.03;

/** The potential at the source less that over flat ground, for the wavenumbers that matter. */
function secondarySamples(shape: EmbankmentShape, distances: readonly number[]): WavenumberSamples {
  const { corners, source, edge_m } = crossSection(shape, EDGE_SHARE * Math.min(...distances));
  const outline = outlineThrough(corners, {
    smallest: PANEL_SHARE * Math.min(edge_m, shape.height_m),
  });
  const size = Math.max(...distances, ...corners.flatMap(({ x, z }) => [Math.abs(x), -z]));
  const low = Math.log(0.01 / size);
  const count = 2 + Math.ceil((Math.log(10 / edge_m) - low) / STEP);
  const values = Float64Array.from({ length: count }, (_, i) =>
    secondaryAt(surfaceField(outline, source, Math.exp(low + i * STEP)), source),
  );
  return { low, step: STEP, values };
}

/** Corners from the waterside toe to the landside toe; the source is one, so panels halve to it. */
function crossSection(shape: EmbankmentShape, nearest: number) {
  const { height_m: h, watersideSlope, landsideSlope, offset_m } = shape;
  const half = Math.max(shape.crestWidth_m / 2, nearest);
  const edge_m = Math.max(half - Math.abs(offset_m), nearest);
  const source: Corner = { x: Math.sign(offset_m) * (half - edge_m), z: 0 };
  const corners: Corner[] = [
    { x: -half - h * watersideSlope, z: -h },
    { x: -half, z: 0 },
    source,
    { x: half, z: 0 },
    { x: half + h * landsideSlope, z: -h },
  ];
  return { corners, source, edge_m };
}
