import { firstOf, groupedBy, lastOf, neighbours } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { median } from "../../numerics/statistics/robust.js";
import type { BaseCheck } from "../campaign.js";

/** A channel's drift by its base checks alone, channel's unit: enough to see gross slips. */
export interface CheckedDrift {
  /** Drift since the first visit of the spot; 0 without checks. */
  readonly at: (time_s: number) => number;
  /** What may be left of it between visits; 0 without checks. */
  readonly left: number;
}

/** Checks further apart than this are of two visits, s. */
const VISIT_S = 300;
/** Drift between two visits may be off the straight line by this share of its change. */
const BENT = 0.35;

/** Straight from visit to visit of the spot that was visited most. */
export function checkedDrift(checks: readonly BaseCheck[], field: string): CheckedDrift {
  const own = checks.filter(({ values }) => values[field] !== undefined);
  const spots = [...groupedBy(own, ({ spot }) => spot).values()];
  const visits = spots
    .map((spot) => visitsOf(spot, field))
    .reduce((most, one) => (one.length > most.length ? one : most), []);
  if (visits.length < 2) return { at: () => 0, left: 0 };
  const start = firstOf(visits).value;
  const times = visits.map(({ time_s }) => time_s);
  const drift = visits.map(({ value }) => value - start);
  const changes = neighbours(drift).map(([from, to]) => Math.abs(to - from));
  return {
    at: (time_s) => (Number.isNaN(time_s) ? 0 : linearBetween(times, drift, time_s)),
    left: BENT * changes.reduce((most, change) => Math.max(most, change), 0),
  };
}

interface Visit {
  readonly time_s: number;
  readonly value: number;
}

function visitsOf(checks: readonly BaseCheck[], field: string): readonly Visit[] {
  const groups: BaseCheck[][] = [];
  for (const check of checks) {
    const group = groups.at(-1);
    if (group !== undefined && check.time_s - lastOf(group).time_s <= VISIT_S) group.push(check);
    else groups.push([check]);
  }
  return groups.map((group) => ({
    time_s: median(group.map(({ time_s }) => time_s)),
    value: median(group.map(({ values }) => values[field] ?? Number.NaN)),
  }));
}
