import { itemAt, zipped } from "../../numerics/arrays.js";
import { greatestAssignment } from "../../numerics/assignment.js";
import type { BlockLevel } from "../record/reach-record.js";
import type { GroundClass, GroundSamples } from "./ground-mixture.js";
import { grownMixture } from "./grown-mixture.js";

/** A block of any reach with its levels by slice. */
export interface PooledBlock {
  readonly reach: string;
  readonly block: string;
  readonly levels: readonly BlockLevel[];
}

export interface PooledClass extends GroundClass {
  /** "G1", "G2", …: by rising resistivity where no classes were known before. */
  readonly name: string;
}

export interface ClassedBlock {
  readonly reach: string;
  readonly block: string;
  readonly class: string;
  readonly probability: number;
}

export interface PooledClasses {
  /** Edges of the depths that classes are told by, m: one column more than edges less one. */
  readonly depths_m: readonly number[];
  readonly classes: readonly PooledClass[];
  readonly blocks: readonly ClassedBlock[];
  /** Blocks without a level at any of the depths: they have no class. */
  readonly unclassed: number;
}

export interface PoolingOptions {
  readonly depths_m?: readonly number[];
  readonly mostClasses?: number;
  /** Classes of an earlier run, whose names and depths are kept. */
  readonly known?: Pick<PooledClasses, "depths_m" | "classes"> | null;
}

const DEPTHS_M: readonly number[] = Object.freeze([0, 1, 2, 4]);
const MOST_CLASSES = 8;
/** A column has a value where slices with one cover at least this share of it. */
const LEAST_COVER = 0.5;

/**
 * Classes of ground that mean the same in every reach: one mixture over the blocks of all reaches,
 * by their resistivity at common depths with its uncertainty (`grownMixture`). Names are "G1",
 * "G2", … from conductive to resistive; with `known` classes the fit starts from them, they keep
 * their names, and what is new takes the next numbers. The order of the blocks does not matter.
 *
 * @param blocks - blocks with log10 resistivity by slice, its standard deviation in decades.
 * @param options - depths (m, default 0, 1, 2, 4), most classes (8), classes known before.
 * @returns classes, and each block's class with its probability among the classes found.
 * Limits: resistivity alone; what soil a class is, boreholes tell.
 */
export function pooledClasses(
  blocks: readonly PooledBlock[],
  { depths_m = DEPTHS_M, mostClasses = MOST_CLASSES, known = null }: PoolingOptions = {},
): PooledClasses {
  const edges = known?.depths_m ?? depths_m;
  const sorted = blocks.toSorted((one, other) => compared(one, other));
  const told = sorted
    .map((block) => ({ block, sample: sampleOf(block.levels, edges) }))
    .filter(({ sample }) => sample.level.some(Number.isFinite));
  const unclassed = blocks.length - told.length;
  if (told.length === 0) {
    return { depths_m: edges, classes: known?.classes ?? [], blocks: [], unclassed };
  }
  const samples = samplesOf(told.map(({ sample }) => sample));
  const fit = grownMixture(samples, { known: known?.classes ?? [], most: mostClasses });
  const names = namesOf(fit.classes, known?.classes ?? []);
  const m = names.length;
  const classed = told.map(({ block }, i) => {
    const row = fit.membership.subarray(i * m, (i + 1) * m);
    const probability = Math.max(...row);
    const name = itemAt(names, row.indexOf(probability));
    return { reach: block.reach, block: block.block, class: name, probability };
  });
  const classes = zipped(fit.classes, names)
    .map(([one, name]) => ({ ...one, name }))
    .sort((one, other) => numberOf(one.name) - numberOf(other.name));
  return { depths_m: edges, classes, blocks: classed, unclassed };
}

const compared = (one: PooledBlock, other: PooledBlock) =>
  order(one.reach, other.reach) || order(one.block, other.block);
const order = (one: string, other: string) => (one < other ? -1 : one > other ? 1 : 0);
const numberOf = (name: string) => Number(name.slice(1));
const meanOf = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Beyond this two centres are no longer the same class, decades. */
const FAR = 10;

/** A class that lies where a known one lay has its name; the others go on from the last number. */
function namesOf(
  classes: readonly GroundClass[],
  known: readonly PooledClass[],
): readonly string[] {
  const nearness = known.map((one) => classes.map((other) => FAR - distance(one, other)));
  const placeOf = known.length === 0 ? [] : greatestAssignment(nearness);
  const fresh = classes.filter((_, k) => !placeOf.includes(k));
  const rising = fresh.toSorted((one, other) => meanOf(one.centre) - meanOf(other.centre));
  const last = Math.max(0, ...known.map(({ name }) => numberOf(name)));
  return classes.map((one, k) => {
    const before = known[placeOf.indexOf(k)];
    return before?.name ?? `G${last + 1 + rising.indexOf(one)}`;
  });
}

const distance = (one: GroundClass, other: GroundClass) =>
  Math.hypot(...zipped(one.centre, other.centre).map(([a, b]) => a - b));

interface Sample {
  readonly level: readonly number[];
  readonly variance: readonly number[];
}

function samplesOf(all: readonly Sample[]): GroundSamples {
  return {
    n: all.length,
    d: all[0]?.level.length ?? 0,
    level: Float64Array.from(all.flatMap(({ level }) => level)),
    variance: Float64Array.from(all.flatMap(({ variance }) => variance)),
  };
}

/** Levels at common depths: the mean over the slices within, by thickness. */
function sampleOf(levels: readonly BlockLevel[], edges: readonly number[]): Sample {
  const columns = edges.slice(1).map((base_m, c) => columnOf(levels, itemAt(edges, c), base_m));
  return {
    level: columns.map(({ level }) => level),
    variance: columns.map(({ variance }) => variance),
  };
}

function columnOf(levels: readonly BlockLevel[], top_m: number, base_m: number) {
  let [thick_m, level, sd] = [0, 0, 0];
  for (const one of levels) {
    const within_m = Math.min(base_m, one.base_m) - Math.max(top_m, one.top_m);
    if (!(within_m > 0)) continue;
    thick_m += within_m;
    level += within_m * one.log10;
    sd += within_m * one.sd;
  }
  if (thick_m < LEAST_COVER * (base_m - top_m)) return { level: Number.NaN, variance: Number.NaN };
  return { level: level / thick_m, variance: (sd / thick_m) ** 2 };
}
