import { outlineThrough } from "./outline.js";
import { alongStrike, type WavenumberSamples } from "./strike-transform.js";
import { secondaryAtSource } from "./surface-field.js";

/** A trapezoid of ground on level ground of the same resistivity, and where the line runs on it. */
export interface EmbankmentShape {
  /** Above 0. */
  readonly crestWidth_m: number;
  /** Of the crest above the level ground, 0 or more; 0 is flat ground. */
  readonly height_m: number;
  /** Horizontal per 1 vertical, 0 (a wall) or more. */
  readonly watersideSlope: number;
  readonly landsideSlope: number;
  /** Of the line from the middle of the crest, positive to the landside; on the crest. */
  readonly offset_m: number;
}

/** Positions on the line, m; Infinity is remote. */
export interface LineSpread {
  readonly a_m: number;
  readonly b_m: number;
  readonly m_m: number;
  readonly n_m: number;
}

const STEP = 0.35;

export function embankmentFactor(shape: EmbankmentShape, spread: LineSpread): number {
  return embankmentFactors(shape, [spread])[0]!;
}

/** The factors of many spreads of one line, at the cost of one. */
export function embankmentFactors(
  shape: EmbankmentShape,
  spreads: readonly LineSpread[],
): number[] {
  const pairs = spreads.map(finitePairs);
  if (shape.height_m === 0 || spreads.length === 0) return spreads.map(() => 1);
  const distances = [...new Set(pairs.flat().map(({ distance_m }) => distance_m))];
  const samples = secondarySamples(shape, distances);
  const secondary = new Map(distances.map((y) => [y, alongStrike(samples, y)]));
  return pairs.map((four) => {
    const flat = four.reduce((sum, { distance_m, sign }) => sum + sign / distance_m, 0);
    const extra = four.reduce((sum, pair) => sum + pair.sign * secondary.get(pair.distance_m)!, 0);
    return 1 + extra / flat;
  });
}

interface Pair {
  readonly distance_m: number;
  readonly sign: number;
}

function finitePairs({ a_m, b_m, m_m, n_m }: LineSpread): Pair[] {
  const pairs = [
    { distance_m: Math.abs(a_m - m_m), sign: 1 },
    { distance_m: Math.abs(b_m - m_m), sign: -1 },
    { distance_m: Math.abs(a_m - n_m), sign: -1 },
    { distance_m: Math.abs(b_m - n_m), sign: 1 },
  ];
  return pairs.filter(({ distance_m }) => Number.isFinite(distance_m));
}

function secondarySamples(shape: EmbankmentShape, distances: readonly number[]): WavenumberSamples {
  const half = shape.crestWidth_m / 2;
  const edge = Math.max(half - Math.abs(shape.offset_m), 0.002 * Math.min(...distances));
  const offset = Math.sign(shape.offset_m) * Math.max(0, half - edge);
  const width = Math.max(half, edge);
  const { height_m: h, watersideSlope, landsideSlope } = shape;
  const corners = [
    { x: -width - h * watersideSlope, z: -h },
    { x: -width, z: 0 },
    { x: offset, z: 0 },
    { x: width, z: 0 },
    { x: width + h * landsideSlope, z: -h },
  ];
  const outline = outlineThrough(corners, Math.min(edge, h) / 50);
  const size = Math.max(...distances, h + width + h * Math.max(watersideSlope, landsideSlope));
  const low = Math.log(0.01 / size);
  const count = 2 + Math.ceil((Math.log(10 / edge) - low) / STEP);
  const values = Float64Array.from({ length: count }, (_, i) =>
    secondaryAtSource(outline, { x: offset, z: 0 }, Math.exp(low + i * STEP)),
  );
  return { low, step: STEP, values };
}
