import type { DepthSlices, Slice } from "../../lib/depth/depth-slices.js";
import { type Random, seededRandom } from "../../lib/numerics/random.js";
import type { SoilTemperature } from "../../lib/survey/survey.js";

/** Depth slices with a known truth. Everything is invented and seeded. */
export interface DepthSlicesMaker {
  readonly campaign?: string;
  readonly seed?: number;
  /** Default 400. */
  readonly stations?: number;
  /** Default 2. */
  readonly spacing_m?: number;
  /** A multiple of the spacing; default 0. */
  readonly from_m?: number;
  /** Tops and bases, default 0–1, 1–2.5 and 2.5–5 m. */
  readonly edges_m?: readonly number[];
  /** Slices from this number on are not reliable; default: all are. */
  readonly reliable?: number;
  /** True log10(ohm-m) by chainage and slice; default 1.7 throughout. */
  readonly truth?: (chainage_m: number, slice: number) => number;
  /** Standard deviation of the scatter of the ground, log10; default 0.05. */
  readonly texture?: number;
  /** Distance over which the scatter's correlation falls to 1/e; default 6 m. */
  readonly correlation_m?: number;
  /** Share of the scatter's variance common to all slices, 0 to 1; default 0.5. */
  readonly shared?: number;
  /** Standard deviation of each estimate, independent between stations, also handed on as sd. */
  readonly sd?: number;
  /** Stretches without estimate. */
  readonly gaps_m?: readonly (readonly [number, number])[];
  readonly soilTemperature?: readonly SoilTemperature[];
  readonly time_s?: number;
}

export function makeDepthSlices(maker: DepthSlicesMaker = {}): DepthSlices {
  const { stations = 400, spacing_m = 2, from_m = 0, edges_m = [0, 1, 2.5, 5] } = maker;
  const chainage_m = Float64Array.from({ length: stations }, (_, i) => from_m + i * spacing_m);
  const slices = slicesBetween(edges_m, maker.reliable ?? Number.POSITIVE_INFINITY);
  const missing = Array.from(chainage_m, (x) => inGap(x, maker.gaps_m ?? []));
  const log10Resistivity = estimates(maker, chainage_m, slices.length).map((column) =>
    column.map((value, i) => (missing[i] ? Number.NaN : value)),
  );
  const sd = slices.map(() =>
    Float64Array.from(missing, (gap) => (gap ? Number.NaN : (maker.sd ?? 0.02))),
  );
  return {
    campaign: maker.campaign ?? "2031-10",
    time_s: maker.time_s ?? Date.UTC(2031, 9, 6, 9) / 1000,
    chainage_m,
    spacing_m,
    slices,
    log10Resistivity,
    sd,
    gap: missing.map((gap) => (gap ? "set aside" : "")),
    misfit: Float64Array.from(missing, (gap) => (gap ? Number.NaN : 1)),
    rms: 1,
    reliableTo_m: slices.filter((slice) => slice.reliable).at(-1)?.base_m ?? 0,
    independentLevels: slices.length,
    layers: layersOf(edges_m, log10Resistivity, sd),
    soilTemperature: maker.soilTemperature ?? [],
    centreline: straightCentreline(from_m + stations * spacing_m),
  };
}

/** The same slices walked from the other end: station order and chainages mirrored. */
export function reversedSlices(slices: DepthSlices): DepthSlices {
  const end = slices.chainage_m[0]! + slices.chainage_m.at(-1)!;
  return {
    ...slices,
    chainage_m: slices.chainage_m.map((x) => end - x).reverse(),
    log10Resistivity: slices.log10Resistivity.map((column) => column.slice().reverse()),
    sd: slices.sd.map((column) => column.slice().reverse()),
    gap: [...slices.gap].reverse(),
    misfit: slices.misfit.slice().reverse(),
  };
}

function slicesBetween(edges: readonly number[], reliable: number): readonly Slice[] {
  return edges
    .slice(1)
    .map((base, k) => ({ top_m: edges[k]!, base_m: base, reliable: k < reliable }));
}

const inGap = (x: number, gaps: readonly (readonly [number, number])[]) =>
  gaps.some(([from, to]) => x >= from && x <= to);

function estimates(maker: DepthSlicesMaker, chainage: Float64Array, k: number): Float64Array[] {
  const { truth = () => 1.7, texture = 0.05, shared = 0.5, sd = 0.02 } = maker;
  const random = seededRandom(maker.seed ?? 1);
  const step = Math.exp(-(maker.spacing_m ?? 2) / (maker.correlation_m ?? 6));
  const common = walk(random, chainage.length, step);
  return Array.from({ length: k }, (_, slice) => {
    const own = walk(random, chainage.length, step);
    return chainage.map((x, i) => {
      const ground = Math.sqrt(shared) * common[i]! + Math.sqrt(1 - shared) * own[i]!;
      return truth(x, slice) + texture * ground + sd * random.normal();
    });
  });
}

/** A stationary row of unit variance whose neighbours have correlation `step`. */
function walk(random: Random, n: number, step: number): Float64Array {
  const row = new Float64Array(n);
  let value = random.normal();
  for (let i = 0; i < n; i++) {
    row[i] = value;
    value = step * value + Math.sqrt(1 - step * step) * random.normal();
  }
  return row;
}

/** One layer a slice, the last going on for ever. */
function layersOf(
  edges: readonly number[],
  columns: readonly Float64Array[],
  sds: readonly Float64Array[],
): DepthSlices["layers"] {
  const m = columns.length;
  const n = columns[0]?.length ?? 0;
  const byStation = (rows: readonly Float64Array[]) =>
    Float64Array.from({ length: n * m }, (_, at) => rows[at % m]![Math.floor(at / m)]!);
  return {
    top_m: Float64Array.from(edges.slice(0, -1)),
    log10Resistivity: byStation(columns),
    sd: byStation(sds),
    learned: new Float64Array(n * m).fill(0.9),
  };
}

function straightCentreline(length_m: number): DepthSlices["centreline"] {
  return {
    easting_m: Float64Array.of(500000, 500000 + length_m),
    northing_m: Float64Array.of(5700000, 5700000),
    chainage_m: Float64Array.of(0, length_m),
    epsg: 32631,
  };
}
