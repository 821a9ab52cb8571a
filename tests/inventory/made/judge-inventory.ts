import {
  type PooledClasses,
  pooledClasses,
} from "../../../lib/inventory/classes/pooled-classes.js";
import {
  type PooledWeights,
  pooledWeights,
  type WeightTable,
} from "../../../lib/inventory/weights/pooled-weights.js";
import { greatestAssignment } from "../../../lib/numerics/assignment.js";
import { cohenKappa } from "../../../lib/numerics/statistics/cohen-kappa.js";
import type { EvidenceName } from "../../../lib/seepage/seepage.js";
import { type MadeReach, madeReach } from "./made-reach.js";

/** Reaches by seed, named so that their order is the seeds'. */
export function madeInventory(count: number, firstSeed: number): readonly MadeReach[] {
  return Array.from({ length: count }, (_, k) =>
    madeReach({ seed: firstSeed + k, reach: `R${String(k).padStart(4, "0")}` }),
  );
}

export interface Agreement {
  /** Kappa of classes against soils, blocks of all reaches in one table. */
  readonly pooled: number;
  /** The same of the letters that reaches give by themselves, one letter one class. */
  readonly alone: number;
  /** The same, the letters of every reach matched to soils by somebody who knows the soils there. */
  readonly aloneKnowing: number;
}

/** How far classes agree with the soils, classes matched to soils as agrees best. */
export function classAgreement(reaches: readonly MadeReach[], soils: number): Agreement {
  const pooled = pooledOf(reaches);
  const named = new Map(pooled.blocks.map((one) => [`${one.reach}\n${one.block}`, one.class]));
  const rows = reaches.map(({ record: { reach }, blocks }) =>
    blocks.map(({ id, soil, letter }) => {
      return { soil, letter, class: named.get(`${reach}\n${id}`) ?? "none" };
    }),
  );
  const knowing = rows.flatMap((own) => {
    const to = matched(
      own.map((one) => [one.letter, one.soil]),
      soils,
    );
    return own.map((one) => ({ soil: one.soil, as: to.get(one.letter) ?? soils }));
  });
  const all = rows.flat();
  return {
    pooled: kappaOf(
      all.map((one) => [one.class, one.soil]),
      soils,
    ),
    alone: kappaOf(
      all.map((one) => [one.letter, one.soil]),
      soils,
    ),
    aloneKnowing: kappa(knowing, soils),
  };
}

export function pooledOf(reaches: readonly MadeReach[]): PooledClasses {
  return pooledClasses(
    reaches.flatMap(({ record, blocks }) =>
      blocks.map(({ id, levels }) => ({ reach: record.reach, block: id, levels })),
    ),
  );
}

type Pair = readonly [name: string, soil: number];

function kappaOf(pairs: readonly Pair[], soils: number): number {
  const to = matched(pairs, soils);
  return kappa(
    pairs.map(([name, soil]) => ({ soil, as: to.get(name) ?? soils })),
    soils,
  );
}

/** Classes beyond the soils go to a place of their own, where nothing agrees. */
function matched(pairs: readonly Pair[], soils: number): ReadonlyMap<string, number> {
  const names = [...new Set(pairs.map(([name]) => name))].sort();
  const shared = names.map((name) =>
    Array.from({ length: soils }, (_, soil) => {
      return pairs.filter((pair) => pair[0] === name && pair[1] === soil).length;
    }),
  );
  const assigned = greatestAssignment(shared);
  return new Map(names.map((name, i) => [name, validSoil(assigned[i], soils)]));
}

const validSoil = (soil: number | null | undefined, soils: number) =>
  soil === null || soil === undefined || soil < 0 ? soils : soil;

function kappa(rows: readonly { readonly soil: number; readonly as: number }[], soils: number) {
  const counts = Array.from({ length: soils + 1 }, (_, one) =>
    Array.from({ length: soils + 1 }, (_, other) => {
      return rows.filter(({ soil, as }) => soil === one && as === other).length;
    }),
  );
  return cohenKappa(counts).kappa;
}

export interface Told {
  readonly weights: PooledWeights;
  /** Area under the curve of weak cells, over all reaches together. */
  readonly pooled: number;
  readonly declared: number;
}

/** How well weights tell weak cells of `judged` reaches, the weights from `recorded` ones. */
export function weightsTold(recorded: readonly MadeReach[], judged = recorded): Told {
  const weights = pooledWeights(recorded.map(({ record }) => record));
  const declared = pooledWeights([]).common;
  const own = ({ record }: MadeReach) => weights.byReach.get(record.reach) ?? weights.common;
  return {
    weights,
    pooled: areaUnder(judged.flatMap((one) => scores(one, own(one)))),
    declared: areaUnder(judged.flatMap((one) => scores(one, declared))),
  };
}

interface Scored {
  readonly score: number;
  readonly isWeak: boolean;
}

function scores({ evidence: { cells, isWeak } }: MadeReach, table: WeightTable): Scored[] {
  const pieces = Object.entries(cells.pieces) as [EvidenceName, readonly (number | null)[]][];
  return isWeak.map((weak, i) => ({
    isWeak: weak,
    score: pieces.reduce((sum, [name, value]) => {
      const { present, absent } = table[name];
      return sum + value[i]! * present + (1 - value[i]!) * absent;
    }, 0),
  }));
}

/** The chance that a weak cell outranks another, by ranks. */
function areaUnder(cells: readonly Scored[]): number {
  const sorted = cells.toSorted((one, other) => one.score - other.score);
  const weak = sorted.flatMap(({ isWeak }, i) => (isWeak ? [i + 1] : []));
  const sum = weak.reduce((total, rank) => total + rank, 0);
  return (
    (sum - (weak.length * (weak.length + 1)) / 2) / (weak.length * (cells.length - weak.length))
  );
}
