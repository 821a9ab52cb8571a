import { zipped } from "../../numerics/arrays.js";
import type { StoredRow } from "../tables/stored-table.js";
import { lineStringWkb, pointWkb } from "../tables/wkb.js";
import type { WeightTable } from "../weights/pooled-weights.js";
import {
  type Compared,
  depthColumns,
  interpretedReaches,
  type NamedReach,
} from "./compare-reaches.js";
import type { GatheredReach } from "./gathered-reach.js";

/** Rows of every table over all reaches, by the table's name. */
export function wholeRows(
  reaches: readonly GatheredReach[],
  compared: Compared,
): Readonly<Record<string, readonly StoredRow[]>> {
  const found = interpretedReaches(reaches);
  return {
    reaches: reaches.map(reachRow),
    classes: classRows(found, compared),
    block_classes: blockRows(found, compared),
    weights: weightRows(compared),
    ranking: rankingRows(found, compared),
    shared_holes: compared.holes.map(({ hole, priority, adds_m, class_m }) => [
      ...[priority, hole.reach, hole.chainage_m, hole.offset_m, hole.depth_m, hole.place],
      ...[hole.purpose, hole.reason, adds_m, hole.class, class_m, pointWkb(hole.at)],
    ]),
  };
}

function reachRow({ reach, state, why, found }: GatheredReach): StoredRow {
  const head = [reach.reach, reach.folder, state, why.join("\n")];
  const details = JSON.stringify(reach.details);
  if (found === null) return [...head, ...new Array(8).fill(null), details, null];
  const wet = found.incidents.filter(({ isWet }) => isWet).length;
  return [
    ...head,
    ...[found.embankment, found.length_m, found.campaigns.join(", "), found.campaign],
    ...[found.readings, found.setAside, wet, found.drilled_m.length],
    details,
    lineStringWkb(found.line),
  ];
}

function classRows(found: readonly NamedReach[], { classes }: Compared): StoredRow[] {
  const lengths = new Map<string, number>();
  const lengthOf = new Map(
    found.flatMap(({ reach, blocks }) =>
      blocks.map(({ id, from_m, to_m }) => [`${reach}\n${id}`, to_m - from_m] as const),
    ),
  );
  for (const one of classes.blocks) {
    const own_m = lengthOf.get(`${one.reach}\n${one.block}`) ?? 0;
    lengths.set(one.class, (lengths.get(one.class) ?? 0) + own_m);
  }
  return classes.classes.flatMap(({ name, share, centre, spread, common }) =>
    depthColumns(classes.depths_m).map(({ top_m, base_m }, c) => [
      ...[name, share, lengths.get(name) ?? 0, top_m, base_m],
      ...[centre[c] ?? null, spread[c] ?? null, common],
    ]),
  );
}

function blockRows(found: readonly NamedReach[], { classes }: Compared): StoredRow[] {
  const classed = new Map(classes.blocks.map((one) => [`${one.reach}\n${one.block}`, one]));
  return found.flatMap(({ reach, blocks }) =>
    blocks.map(({ id, from_m, to_m, class: alone, path }) => {
      const own = classed.get(`${reach}\n${id}`);
      return [
        ...[reach, id, from_m, to_m, own?.class ?? null, own?.probability ?? null, alone],
        lineStringWkb(path),
      ];
    }),
  );
}

function weightRows({ weights }: Compared): StoredRow[] {
  const rows = (reach: string | null, table: WeightTable): StoredRow[] =>
    Object.entries(table).map(([piece, { present, absent, sd, from }]) => {
      const between = weights.between[piece as keyof WeightTable] ?? null;
      return [reach, piece, present, absent, sd, between, from];
    });
  const own = weights.from === "declared" ? [] : [...weights.byReach];
  return [...rows(null, weights.common), ...own.flatMap(([reach, table]) => rows(reach, table))];
}

function rankingRows(found: readonly NamedReach[], { ranking }: Compared): StoredRow[] {
  const paths = new Map(
    found.flatMap(({ reach, zones }) =>
      zones.map(({ rank, path }) => [`${reach}\n${rank}`, path] as const),
    ),
  );
  const places = ranking.map(({ reach, zone }) => paths.get(`${reach}\n${zone}`) ?? []);
  return zipped(ranking, places).map(([one, path]) => [
    ...[one.rank, ...one.rankRange, one.amongFirstTen, one.rankAlone, one.reach, one.zone],
    ...[one.from_m, one.to_m, one.score, one.probability, one.band, one.bandKept],
    JSON.stringify(Object.fromEntries(one.contributions.map(({ name, value }) => [name, value]))),
    lineStringWkb(path),
  ]);
}
