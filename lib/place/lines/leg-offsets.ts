import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { RowRun } from "../../numerics/runs.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Campaign, Pass } from "../../survey/survey.js";
import { legsOf } from "../walk/legs.js";

/** Rows of one pass that were walked on one line. */
export interface LineRows extends RowRun {
  readonly pass: number;
}

/** What one campaign walked under one name at one distance from the centreline. */
export interface NamedWalk {
  readonly campaign: number;
  /** "" where the field is blank. */
  readonly name: string;
  /** Median distance from the centreline, m, positive to the left; NaN where it has no place. */
  readonly offset_m: number;
  /** Readings that have a place. */
  readonly readings: number;
  readonly rows: readonly LineRows[];
}

/**
 * Legs of one name whose middles lie further apart across the bank are on two lines, m: beyond what
 * a receiver's slow error moves a whole leg.
 */
const TWO_LINES_M = 6;
/**
 * The middle of a leg with fewer readings than this tells no line: it may be the way to the bank.
 */
const LEAST_READINGS = 50;

/** The walks of one placed campaign, by name, and by distance where one name has several. */
export function namedWalks(campaign: Campaign, index: number): readonly NamedWalk[] {
  const runs = campaign.passes.flatMap((pass, p) => nameRuns(pass, p));
  const names = new Set(runs.map(({ name }) => name));
  return [...names].flatMap((name) => {
    const legs = runs
      .filter((run) => run.name === name)
      .flatMap((run) => legsWithin(campaign, run));
    return byOffset(legs).map((own) => ({ campaign: index, name, ...joined(campaign, own) }));
  });
}

interface NameRun extends LineRows {
  readonly name: string;
}

interface OffsetLeg extends LineRows {
  readonly offset_m: number;
  readonly readings: number;
}

/** Runs of rows under one name, in file order. */
function nameRuns({ line, count }: Pass, pass: number): readonly NameRun[] {
  const runs: { pass: number; name: string; first: number; last: number }[] = [];
  for (let row = 0; row < count; row++) {
    const name = line[row] ?? "";
    const open = runs.at(-1);
    if (open?.name === name) open.last = row;
    else runs.push({ pass, name, first: row, last: row });
  }
  return runs;
}

/**
 * A run cut where the walk turns, each row in one leg; legs too short to tell join the one before.
 */
function legsWithin({ passes }: Campaign, run: NameRun): readonly OffsetLeg[] {
  const { chainage_m, offset_m } = itemAt(passes, run.pass);
  const within = chainage_m.slice(run.first, run.last + 1);
  const ends = legsOf(within).map(({ last }) => run.first + last);
  const cuts = [...ends.slice(0, -1), run.last];
  const legs: OffsetLeg[] = [];
  let first = run.first;
  for (const last of cuts) {
    const leg = offsetLeg(offset_m, { pass: run.pass, first, last });
    const isEnough = leg.readings >= LEAST_READINGS || last === run.last;
    if (isEnough) legs.push(leg);
    if (isEnough) first = last + 1;
  }
  return legs;
}

function offsetLeg(offset_m: Float64Array, rows: LineRows): OffsetLeg {
  const known = offset_m.slice(rows.first, rows.last + 1).filter((x) => !Number.isNaN(x));
  return {
    ...rows,
    readings: known.length,
    offset_m: known.length > 0 ? median(known) : Number.NaN,
  };
}

/** Legs in groups that lie apart; those too short to tell go with the largest group. */
function byOffset(legs: readonly OffsetLeg[]): readonly (readonly OffsetLeg[])[] {
  const telling = legs
    .filter(({ readings }) => readings >= LEAST_READINGS)
    .toSorted((one, other) => one.offset_m - other.offset_m);
  const groups: OffsetLeg[][] = [];
  for (const leg of telling) {
    const last = groups.at(-1)?.at(-1);
    if (last === undefined || leg.offset_m - last.offset_m > TWO_LINES_M) groups.push([leg]);
    else groups.at(-1)?.push(leg);
  }
  if (groups.length < 2) return [legs];
  const rest = legs.filter(({ readings }) => readings < LEAST_READINGS);
  const size = (group: readonly OffsetLeg[]) => group.reduce((sum, leg) => sum + leg.readings, 0);
  groups.sort((one, other) => size(other) - size(one));
  groups[0]?.push(...rest);
  return groups;
}

function joined({ passes }: Campaign, legs: readonly OffsetLeg[]) {
  const offsets = legs.flatMap(({ pass, first, last }) => {
    const { offset_m } = itemAt(passes, pass);
    const rows = Array.from({ length: last - first + 1 }, (_, i) => first + i);
    return rows.map((row) => valueAt(offset_m, row)).filter((x) => !Number.isNaN(x));
  });
  const middle_m = offsets.length > 0 ? median(Float64Array.from(offsets)) : Number.NaN;
  const rows = legs.map(({ pass, first, last }) => ({ pass, first, last }));
  return { offset_m: middle_m, readings: offsets.length, rows };
}
