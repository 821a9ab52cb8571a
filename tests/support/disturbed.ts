// Seeded lines over two-layer ground with edges and narrow conductors, and metal beside the line.
import { type Coils, coilResponse } from "../../lib/earth/coil-response.js";
import { type Random, seededRandom } from "../../lib/numerics/random.js";
import type { Campaign, Channel, Orientation } from "../../lib/survey/survey.js";
import { campaignOf, channelOf, type NoteSketch } from "./campaign.js";

const SEPARATION_m = 1.8;
const HEIGHT_m = 0.9;

export function tenChannels(orientation: Orientation): readonly Channel[] {
  return [1500, 4000, 10000, 25000, 60000].flatMap((frequency_Hz) =>
    (["quadrature", "inphase"] as const).map((kind) =>
      channelOf({ kind, frequency_Hz, orientation, separation_m: SEPARATION_m }),
    ),
  );
}

/** 1 % of the value over a floor of 10 ppm (quadrature) or 25 ppm (in-phase). */
export function noiseSd({ kind }: Channel, value: number): number {
  return Math.hypot(kind === "quadrature" ? 10 : 25, 0.01 * value);
}

/** Scatter of undisturbed readings about their local level: noise, and the ground's grain of 6 %. */
export function scatterSd(channel: Channel, value: number): number {
  return Math.hypot(noiseSd(channel, value), 0.06 * value);
}

export interface Metal {
  readonly at_m: number;
  /**
   * Effect on the reading that shows it most, over the scatter of undisturbed readings about their
   * local level (noise and the ground's grain), root mean square over the channels.
   */
  readonly size: number;
  /** Distance aside of the coils, m, depth below them, m, and decay time, s; left out: by chance. */
  readonly aside_m?: number;
  readonly below_m?: number;
  readonly decay_s?: number;
}

export interface DisturbedSketch {
  readonly seed: number;
  readonly length_m?: number;
  readonly orientations?: readonly Orientation[];
  /** Chainages where the ground changes from one make to another. */
  readonly edges_m?: readonly number[];
  /** Chainages of bodies 4 m wide, several times as conductive as their surroundings. */
  readonly conductors_m?: readonly number[];
  readonly metal?: readonly Metal[];
  readonly bursts?: readonly Burst[];
  readonly rails?: readonly Rail[];
  readonly notes?: readonly NoteSketch[];
}

/** A long conductor beside the line, such as a guard rail: it shifts its whole stretch evenly. */
export interface Rail {
  readonly from_m: number;
  readonly to_m: number;
  /** As for metal: effect over the scatter, root mean square over the channels of a walk. */
  readonly size: number;
}

/** A stretch of one walk where the instrument is noisier than elsewhere. */
export interface Burst {
  readonly from_m: number;
  readonly to_m: number;
  /** Index of the orientation whose walk it is. */
  readonly walk: number;
  /** Noise there over the usual noise. */
  readonly factor: number;
  /** The one frequency it disturbs; left out: all. */
  readonly frequency_Hz?: number;
}

export function disturbed(sketch: DisturbedSketch): Campaign {
  const { length_m = 400, orientations = ["HCP"] } = sketch;
  const random = seededRandom(sketch.seed);
  const ground = groundOf(sketch, length_m, random);
  const lines = orientations.map((orientation): Line => {
    const channels = tenChannels(orientation);
    const chainage_m = walk(length_m, random);
    return { channels, chainage_m, values: channels.map((one) => clean(one, chainage_m, ground)) };
  });
  for (const metal of sketch.metal ?? []) add(metal, lines, random);
  for (const rail of sketch.rails ?? []) addRail(rail, lines, random);
  return campaignOf({
    passes: lines.map(({ channels, chainage_m, values }, k) => ({
      resource: `walk-${orientations[k]}`,
      channels,
      chainage_m,
      values: values.map((column, c) =>
        column.map((value, i) => {
          const louder = loudness(sketch.bursts ?? [], channels[c]!, {
            walk: k,
            x: chainage_m[i]!,
          });
          return value + louder * noiseSd(channels[c]!, value) * random.normal();
        }),
      ),
    })),
    notes: sketch.notes ?? [],
  });
}

function loudness(
  bursts: readonly Burst[],
  { frequency_Hz }: Channel,
  at: { readonly walk: number; readonly x: number },
): number {
  const here = bursts.find(
    (one) =>
      one.walk === at.walk &&
      at.x >= one.from_m &&
      at.x <= one.to_m &&
      (one.frequency_Hz === undefined || one.frequency_Hz === frequency_Hz),
  );
  return here?.factor ?? 1;
}

function walk(length_m: number, random: Random): number[] {
  const chainage_m: number[] = [];
  for (let x = 0.5; x < length_m; x += 1.2 + 0.05 * random.normal()) {
    chainage_m.push(x + 0.2 * random.normal());
  }
  return chainage_m;
}

type Ground = (x: number) => readonly [top: number, below: number];

/** log10(S/m) of both layers along the line, smoothed over a metre or so as the coils do. */
function groundOf(sketch: DisturbedSketch, length_m: number, random: Random): Ground {
  const edges = [...(sketch.edges_m ?? []), Number.POSITIVE_INFINITY];
  const level = () => [-1.9 + 0.8 * random.uniform(), -1.9 + 0.8 * random.uniform()] as const;
  const makes = edges.map(level);
  const step_m = 0.25;
  const n = Math.ceil(length_m / step_m) + 80;
  const grain = [wander(random, n, step_m), wander(random, n, step_m)] as const;
  const raw = (k: 0 | 1, i: number) => {
    const x = (i - 40) * step_m;
    const inside = (sketch.conductors_m ?? []).some((at) => Math.abs(x - at) < 2);
    return makes[edges.findIndex((edge) => x < edge)]![k] + grain[k][i]! + (inside ? 0.45 : 0);
  };
  const smooth = ([0, 1] as const).map((k) =>
    smoothed(
      Float64Array.from({ length: n }, (_, i) => raw(k, i)),
      1 / step_m,
    ),
  ) as [Float64Array, Float64Array];
  return (x) => {
    const i = Math.min(n - 1, Math.max(0, Math.round(x / step_m) + 40));
    return [smooth[0][i]!, smooth[1][i]!];
  };
}

/** Grain of 0.025 in log10 (6 %), correlated over 5 m. */
function wander(random: Random, n: number, step_m: number): Float64Array {
  const keep = Math.exp(-step_m / 5);
  let value = 0.025 * random.normal();
  return Float64Array.from({ length: n }, () => {
    value = keep * value + 0.025 * Math.sqrt(1 - keep * keep) * random.normal();
    return value;
  });
}

function smoothed(values: Float64Array, sd: number): Float64Array {
  const reach = Math.ceil(3 * sd);
  return values.map((_, i) => {
    let [sum, weight] = [0, 0];
    for (let j = Math.max(0, i - reach); j <= Math.min(values.length - 1, i + reach); j++) {
      const w = Math.exp(-0.5 * ((j - i) / sd) ** 2);
      sum += w * values[j]!;
      weight += w;
    }
    return sum / weight;
  });
}

function clean(channel: Channel, chainage_m: readonly number[], ground: Ground): number[] {
  const table = responseTable(channel);
  return chainage_m.map((x) => lookUp(table, ground(x)));
}

const GRID = Array.from({ length: 17 }, (_, i) => -2.2 + 0.1 * i);
type Table = readonly (readonly number[])[];
const tables = new Map<string, Readonly<Record<"inphase_ppm" | "quadrature_ppm", Table>>>();

/** The response over two layers, the upper 1.2 m thick, on a grid of both conductivities. */
function responseTable(channel: Channel): Table {
  const { kind, orientation, separation_m, frequency_Hz } = channel;
  const coils = { orientation, separation_m, frequency_Hz, height_m: HEIGHT_m };
  const key = JSON.stringify(coils);
  const both = tables.get(key) ?? bothTables(coils);
  tables.set(key, both);
  return kind === "inphase" ? both.inphase_ppm : both.quadrature_ppm;
}

function bothTables(coils: Coils) {
  const readings = GRID.map((top) =>
    GRID.map((below) => {
      const earth = { conductivity_S_per_m: [10 ** top, 10 ** below], thickness_m: [1.2] };
      return coilResponse(earth, coils);
    }),
  );
  const table = (part: "inphase_ppm" | "quadrature_ppm") =>
    readings.map((row) => row.map((reading) => reading[part]));
  return { inphase_ppm: table("inphase_ppm"), quadrature_ppm: table("quadrature_ppm") };
}

function lookUp(table: Table, at: readonly [number, number]): number {
  const [i, p] = cell(at[0]);
  const [j, q] = cell(at[1]);
  const row = (k: number) => table[k]![j]! * (1 - q) + table[k]![j + 1]! * q;
  return row(i) * (1 - p) + row(i + 1) * p;
}

function cell(value: number): [number, number] {
  const place = Math.min(GRID.length - 1.001, Math.max(0, (value - GRID[0]!) * 10));
  return [Math.floor(place), place - Math.floor(place)];
}

interface Line {
  readonly channels: readonly Channel[];
  readonly chainage_m: readonly number[];
  readonly values: readonly number[][];
}

/** A small conducting sphere near the line: a dipole induced by one coil and sensed by the other. */
function add(metal: Metal, lines: readonly Line[], random: Random): void {
  const { at_m, size } = metal;
  const [aside_m, below_m] = [1.5 * (random.uniform() - 0.5), 0.7 + 0.6 * random.uniform()];
  const drawn_s = 10 ** (-5.3 + 1.5 * random.uniform());
  const place = { offset_m: metal.aside_m ?? aside_m, below_m: metal.below_m ?? below_m };
  const decay_s = metal.decay_s ?? drawn_s;
  const shapes = lines.map(({ channels, chainage_m }) =>
    channels.map((channel) =>
      chainage_m.map((x) => sphere(channel, { ...place, along_m: at_m - x, decay_s })),
    ),
  );
  const most = Math.max(...lines.map((line, k) => largest(line, shapes[k]!)));
  for (const [k, { values }] of lines.entries()) {
    for (const [c, column] of shapes[k]!.entries()) {
      for (const [i, effect] of column.entries()) values[c]![i]! += (size / most) * effect;
    }
  }
}

/**
 * The current in a long conductor goes with the field of the sender across it, and so does the field
 * it sends back: HCP couples by its distance aside, VCP by its depth below the coils.
 */
function addRail({ from_m, to_m, size }: Rail, lines: readonly Line[], random: Random): void {
  const [aside, below] = [0.5 + 1.5 * random.uniform(), 0.5 + 0.8 * random.uniform()];
  const decay_s = 10 ** (-5 + 1.5 * random.uniform());
  const along = (x: number) => 1 / (1 + Math.exp(-(x - from_m))) / (1 + Math.exp(x - to_m));
  const shapes = lines.map(({ channels, chainage_m }) =>
    channels.map((channel) => {
      const part = responsePart(channel, decay_s);
      const couples = channel.orientation === "HCP" ? aside : below;
      return chainage_m.map((x) => -part * couples ** 2 * along(x));
    }),
  );
  const most = Math.max(...lines.map((line, k) => largest(line, shapes[k]!)));
  for (const [k, { values }] of lines.entries()) {
    for (const [c, column] of shapes[k]!.entries()) {
      for (const [i, effect] of column.entries()) values[c]![i]! += (size / most) * effect;
    }
  }
}

/** In-phase or quadrature of a conductor with one decay time. */
function responsePart({ kind, frequency_Hz }: Channel, decay_s: number): number {
  const x = 2 * Math.PI * frequency_Hz * decay_s;
  return kind === "inphase" ? -(x * x) / (1 + x * x) : -x / (1 + x * x);
}

/** Largest effect on one reading, root mean square over the channels, in scatters. */
function largest({ channels, chainage_m, values }: Line, shape: readonly number[][]): number {
  const squares = chainage_m.map((_, i) =>
    shape.reduce((sum, column, c) => {
      return sum + (column[i]! / scatterSd(channels[c]!, values[c]![i]!)) ** 2;
    }, 0),
  );
  return Math.sqrt(Math.max(...squares) / channels.length);
}

function sphere(
  channel: Channel,
  at: { along_m: number; offset_m: number; below_m: number; decay_s: number },
): number {
  const part = responsePart(channel, at.decay_s);
  const axis = channel.orientation === "HCP" ? 2 : 1;
  const field = (shift: number) => {
    const r = [at.along_m + shift, at.offset_m, -at.below_m];
    const square = r.reduce((sum, one) => sum + one * one, 0);
    return r.map((one, k) => (3 * r[axis]! * one - (k === axis ? square : 0)) / square ** 2.5);
  };
  const [sent, heard] = [field(SEPARATION_m / 2), field(-SEPARATION_m / 2)];
  return -part * sent!.reduce((sum, one, k) => sum + one * heard![k]!, 0);
}
