// Banks whose making shares nothing with the way soils are told: soils by block and bed with lenses of
// other soil, resistivities by soil, block and place, slices as smeared, smoothed and off estimates.
import { type Random, seededRandom } from "../../../lib/numerics/random.js";
import type { Borehole } from "../../../lib/survey/survey.js";
import { makeDepthSlices } from "../../support/depth-slices.js";

interface Soil {
  readonly letters: string;
  readonly log10: number;
  readonly fines_pct: number;
}

/** Pore water and make of each bank shift all of them; their ranges overlap. */
const SOILS: readonly Soil[] = [
  { letters: "siCl", log10: 1.15, fines_pct: 88 },
  { letters: "clSi", log10: 1.5, fines_pct: 70 },
  { letters: "siSa", log10: 1.85, fines_pct: 24 },
  { letters: "saGr", log10: 2.2, fines_pct: 6 },
];

const EDGES_M = [0, 0.8, 2, 4];
const SPACING_M = 5;

interface Bed {
  readonly soil: number;
  readonly log10: number;
  readonly fines_pct: number;
}

interface Lens {
  readonly from_m: number;
  readonly to_m: number;
  readonly bed: number;
  readonly soil: number;
}

/** What lies where, and what a walk and boreholes would make of it. */
export interface SeededBank {
  readonly length_m: number;
  /** Where one block ends and the next begins, with both ends of the bank. */
  readonly edges_m: readonly number[];
  readonly slices: ReturnType<typeof makeDepthSlices>;
  /** Kind of soil that fills most of a slice. */
  readonly kindAt: (chainage_m: number, slice: number) => string;
  readonly drill: (chainage_m: number, depth_m: number) => Borehole;
}

export function seededBank(seed: number): SeededBank {
  const random = seededRandom(seed);
  const length_m = 1200 + 1500 * random.uniform();
  const ends = blockEnds(random, length_m);
  const shift = 0.15 * random.normal();
  const beds = ends.map((_, b) => bedsOf(random, b, shift));
  const lenses = lensesOf(random, length_m);
  const edge = [1, 2.2].map((depth) => ({ depth, walk: wander(random, length_m) }));
  const grain = SOILS.map(() => wander(random, length_m));
  const blockAt = (x: number) =>
    Math.max(
      0,
      ends.findIndex((end) => x < end),
    );
  const bedAt = (x: number, z: number) => {
    const block = beds[blockAt(x)] ?? beds.at(-1)!;
    const k = edge.filter(({ depth, walk }) => z >= depth + 0.35 * walk(x)).length;
    const lens = lenses.find(({ from_m, to_m, bed }) => bed === k && x >= from_m && x < to_m);
    const own = block[k]!;
    if (lens === undefined) return own;
    const soil = SOILS[lens.soil]!;
    return { soil: lens.soil, log10: soil.log10 + shift, fines_pct: soil.fines_pct };
  };
  const depths = (top_m: number, base_m: number) =>
    Array.from({ length: 8 }, (_, i) => top_m + ((i + 0.5) / 8) * (base_m - top_m));
  const log10At = (x: number, k: number) => {
    const values = depths(EDGES_M[k]!, EDGES_M[k + 1]!).map((z) => {
      const bed = bedAt(x, z);
      return bed.log10 + 0.07 * grain[bed.soil]!(x);
    });
    return values.reduce((sum, value) => sum + value, 0) / values.length;
  };
  return {
    length_m,
    edges_m: [0, ...ends],
    slices: walked(random, length_m, log10At),
    kindAt: (x, k) => {
      const kinds = depths(EDGES_M[k]!, EDGES_M[k + 1]!).map((z) => bedAt(x, z).soil);
      const counts = SOILS.map((_, soil) => kinds.filter((kind) => kind === soil).length);
      return SOILS[counts.indexOf(Math.max(...counts))]!.letters.slice(-2);
    },
    drill: (chainage_m, depth_m) => drilled(random, { chainage_m, depth_m, bedAt }),
  };
}

/** From 30 to 600 m, short ones as common as long ones on a log scale. */
function blockEnds(random: Random, length_m: number): number[] {
  const ends: number[] = [];
  for (let at = 0; at < length_m; ) {
    at += 30 * 20 ** random.uniform();
    ends.push(Math.min(at, length_m));
  }
  return ends;
}

/** Fill, core and foundation, the same soil again as often as not; each block with a shift of its own. */
function bedsOf(random: Random, _block: number, shift: number): Bed[] {
  let soil = random.integer(SOILS.length);
  return [0, 1, 2].map(() => {
    if (random.uniform() < 0.5) soil = random.integer(SOILS.length);
    const { log10, fines_pct } = SOILS[soil]!;
    const own = 0.12 * random.normal();
    // Grain and pore water part: fines follow half of the block's shift, the wrong way round.
    const fines = fines_pct * Math.exp(-0.3 * own + 0.1 * random.normal());
    return { soil, log10: log10 + shift + own, fines_pct: Math.min(98, fines) };
  });
}

function lensesOf(random: Random, length_m: number): Lens[] {
  const lenses: Lens[] = [];
  for (let at = -200 * Math.log(1 - random.uniform()); at < length_m; ) {
    const to_m = at + 10 * 6 ** random.uniform();
    lenses.push({ from_m: at, to_m, bed: random.integer(3), soil: random.integer(SOILS.length) });
    at = to_m - 200 * Math.log(1 - random.uniform());
  }
  return lenses;
}

/** Stationary, of unit variance, with a range of its own. */
function wander(random: Random, length_m: number): (x: number) => number {
  const keep = Math.exp(-SPACING_M / (5 * 12 ** random.uniform()));
  const rows = new Float64Array(Math.ceil(length_m / SPACING_M) + 2);
  let value = random.normal();
  for (let i = 0; i < rows.length; i++) {
    rows[i] = value;
    value = keep * value + Math.sqrt(1 - keep * keep) * random.normal();
  }
  return (x) => rows[Math.min(rows.length - 1, Math.max(0, Math.round(x / SPACING_M)))]!;
}

/** A sixth of each slice is its neighbours'; errors wander along the line and are not quite as stated. */
function walked(random: Random, length_m: number, log10At: (x: number, k: number) => number) {
  const stated = 0.06 + 0.06 * random.uniform();
  const errors = [0, 1, 2].map(() => wander(random, length_m));
  const factor = 0.8 + 0.4 * random.uniform();
  const truth = (x: number, k: number) => {
    const about = [-SPACING_M, 0, SPACING_M].map((off) => log10At(x + off, k));
    const here = about.reduce((sum, value) => sum + value, 0) / 3;
    const beside = [k - 1, k + 1].filter((j) => j >= 0 && j < 3).map((j) => log10At(x, j));
    const others = beside.reduce((sum, value) => sum + value, 0) / beside.length;
    return (5 * here + others) / 6 + factor * stated * errors[k]!(x);
  };
  const line = makeDepthSlices({
    ...{ truth, texture: 0, edges_m: EDGES_M, spacing_m: SPACING_M, sd: 0.01 },
    stations: Math.floor(length_m / SPACING_M),
    seed: random.integer(1e9),
  });
  return { ...line, sd: line.sd.map((column) => column.map(() => stated)) };
}

interface Drilling {
  readonly chainage_m: number;
  readonly depth_m: number;
  readonly bedAt: (x: number, z: number) => Bed;
}

/** Logged to 0.1 m; a sample from the middle of each stratum. */
function drilled(random: Random, { chainage_m, depth_m, bedAt }: Drilling): Borehole {
  const strata: { top_m: number; base_m: number; soil: string; description: string }[] = [];
  for (let z = 0; z < depth_m - 1e-9; z += 0.1) {
    const soil = SOILS[bedAt(chainage_m, z + 0.05).soil]!.letters;
    const last = strata.at(-1);
    if (last?.soil === soil) last.base_m = z + 0.1;
    else strata.push({ top_m: z, base_m: z + 0.1, soil, description: "" });
  }
  return {
    borehole: `BH ${chainage_m.toFixed(0)}`,
    ...{ chainage_m, depth_m, offset_m: 0, elevation_m: 6.2, strata },
    laboratory: strata.map(({ top_m, base_m }) => {
      const middle_m = (top_m + base_m) / 2;
      const { fines_pct } = bedAt(chainage_m, middle_m);
      return {
        depth_m: middle_m,
        fines_pct: Math.min(99, fines_pct * Math.exp(0.05 * random.normal())),
        ...{ water_content_pct: null, hydraulic_conductivity_m_per_s: null },
        resistivity_ohm_m: null,
      };
    }),
  };
}
