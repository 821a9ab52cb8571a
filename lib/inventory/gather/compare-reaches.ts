import { itemAt } from "../../numerics/arrays.js";
import { type PooledBlock, type PooledClasses, pooledClasses } from "../classes/pooled-classes.js";
import { type HoleBudget, type SharedHole, sharedPlan } from "../holes/shared-plan.js";
import { type RankedZone, rankedZones } from "../ranking/ranked-zones.js";
import { type PooledWeights, pooledWeights } from "../weights/pooled-weights.js";
import type { FoundReach, GatheredReach } from "./gathered-reach.js";

export interface ComparingOptions {
  readonly budget: HoleBudget;
  /** Classes of an earlier run, whose names are kept. */
  readonly known: Pick<PooledClasses, "depths_m" | "classes"> | null;
}

/** What all reaches say together. */
export interface Compared {
  readonly classes: PooledClasses;
  readonly weights: PooledWeights;
  readonly ranking: readonly RankedZone[];
  readonly holes: readonly SharedHole[];
}

/** An interpreted reach under its name. */
export interface NamedReach extends FoundReach {
  readonly reach: string;
}

export function interpretedReaches(reaches: readonly GatheredReach[]): readonly NamedReach[] {
  return reaches.flatMap(({ reach, found }) => {
    return found === null ? [] : [{ reach: reach.reach, ...found }];
  });
}

/** The same reaches give the same, in whichever order their jobs ended. */
export function compareReaches(
  reaches: readonly GatheredReach[],
  { budget, known }: ComparingOptions,
): Compared {
  const found = interpretedReaches(reaches);
  const blocks = found.flatMap(({ reach, blocks: own }): PooledBlock[] =>
    own.map(({ id, levels }) => ({ reach, block: id, levels })),
  );
  const classes = pooledClasses(blocks, { known });
  const weights = pooledWeights(found);
  const zones = found.flatMap(({ reach, zones: own }) => own.map((zone) => ({ reach, zone })));
  const ranking = rankedZones(zones, weights);
  return { classes, weights, ranking, holes: holesOf(found, { classes, ranking, budget }) };
}

interface Siting extends Pick<Compared, "classes" | "ranking"> {
  readonly budget: HoleBudget;
}

function holesOf(found: readonly NamedReach[], { classes, ranking, budget }: Siting) {
  const classOf = new Map(classes.blocks.map((one) => [`${one.reach}\n${one.block}`, one.class]));
  const pooled = new Map(ranking.map((one) => [`${one.reach}\n${one.zone}`, one.probability]));
  const classAt = ({ reach, blocks }: NamedReach, x: number) => {
    const block = blocks.find(({ from_m, to_m }) => x >= from_m && x < to_m);
    return classOf.get(`${reach}\n${block?.id}`) ?? null;
  };
  const offered = found.flatMap((one) =>
    one.offered.map((hole) => {
      const x = hole.chainage_m;
      const zone = one.zones.find(({ from_m, to_m }) => x >= from_m && x <= to_m);
      const now = pooled.get(`${one.reach}\n${zone?.rank}`);
      const seepageFactor = zone === undefined || now === undefined ? 1 : now / zone.probability;
      return { ...hole, reach: one.reach, class: classAt(one, x), seepageFactor };
    }),
  );
  const ground = classes.classes.map(({ name }) => ({
    name,
    length_m: classLength_m(found, classOf, name),
    drilled: found.flatMap((one) => one.drilled_m.filter((x) => classAt(one, x) === name)).length,
  }));
  return sharedPlan(offered, ground, budget);
}

function classLength_m(
  found: readonly NamedReach[],
  classOf: ReadonlyMap<string, string>,
  name: string,
): number {
  let sum_m = 0;
  for (const { reach, blocks } of found) {
    for (const { id, from_m, to_m } of blocks) {
      if (classOf.get(`${reach}\n${id}`) === name) sum_m += to_m - from_m;
    }
  }
  return sum_m;
}

/** A place of a class's depth columns. */
export function depthColumns(edges: readonly number[]) {
  return edges.slice(1).map((base_m, c) => ({ top_m: itemAt(edges, c), base_m }));
}
