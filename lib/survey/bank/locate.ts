import type { FaultLog } from "../check/faults.js";
import type { Table } from "../read/table.js";
import type { Centreline } from "../survey.js";
import { chainageAt } from "./position.js";
import type { Grid, LonLat, Projection } from "./projection.js";

/** Where the survey is: what positions are checked against. */
export interface Frame {
  readonly centreline: Centreline;
  readonly projection: Projection;
  /** Positions further from the centreline are faults, m. */
  readonly farFromCentreline_m: number;
}

const nowhere: Grid = { easting_m: Number.NaN, northing_m: Number.NaN };

// Further out no map grid reaches; it also keeps squares of distances finite.
const LARGEST_COORDINATE_M = 1e8;

/** Projected positions of a table's rows; NaN where the file gives none or a faulty one. */
export function locate(table: Table, frame: Frame, log: FaultLog): readonly Grid[] {
  checkPairs(table, log);
  const easting = table.numbers("easting");
  const northing = table.numbers("northing");
  const longitude = table.numbers("longitude");
  const latitude = table.numbers("latitude");
  return Array.from({ length: table.count }, (_, i) => {
    const row = { table, i, frame };
    const grid = { easting_m: easting[i]!, northing_m: northing[i]! };
    if (Number.isFinite(grid.easting_m + grid.northing_m)) return onGrid(row, grid, log);
    return onGlobe(row, { longitude: longitude[i]!, latitude: latitude[i]! }, log);
  });
}

interface Row {
  readonly table: Table;
  readonly i: number;
  readonly frame: Frame;
}

/** Half a position is a fault: of the header where a column is absent, of the row where a cell is. */
function checkPairs(table: Table, log: FaultLog): void {
  for (const [one, other] of [
    ["longitude", "latitude"],
    ["easting", "northing"],
  ] as const) {
    if (table.has(one) !== table.has(other)) {
      const field = table.has(one) ? other : one;
      const rule = `a column of the file, as ${table.has(one) ? one : other} is`;
      const place = { file: table.file, row: 1, field };
      log.add({ code: "missing-column", ...place, rule, value: "no such column" });
      continue;
    }
    const [a, b] = [table.numbers(one), table.numbers(other)];
    const blankA = table.blank(one);
    const blankB = table.blank(other);
    for (let i = 0; i < a.length; i++) {
      if (blankA[i] === blankB[i]) continue;
      const [field, given, value] = blankA[i] ? [one, other, b[i]!] : [other, one, a[i]!];
      const place = { file: table.file, row: table.row[i]!, field };
      const rule = `given where ${given} is (${value})`;
      log.add({ code: "half-position", ...place, rule, value: "a blank cell" });
    }
  }
}

function onGrid(row: Row, grid: Grid, log: FaultLog): Grid {
  const { table, i, frame } = row;
  const away_m = awayFrom(frame, grid);
  if (away_m <= frame.farFromCentreline_m) return grid;
  const swapped = { easting_m: grid.northing_m, northing_m: grid.easting_m };
  const isSwapped = awayFrom(frame, swapped) <= frame.farFromCentreline_m;
  const shown = `${grid.easting_m}, ${grid.northing_m}`;
  const place = { file: table.file, row: table.row[i]!, field: "easting" };
  const hint = isSwapped
    ? "easting and northing look swapped"
    : `coordinates are read as EPSG:${frame.projection.epsg}`;
  log.add({ ...farFault(frame, away_m, shown), ...place, hint, ...codeIf(isSwapped) });
  return nowhere;
}

function onGlobe(
  row: Row,
  at: { readonly longitude: number; readonly latitude: number },
  log: FaultLog,
): Grid {
  const { table, i, frame } = row;
  const { longitude, latitude } = at;
  if (!Number.isFinite(longitude + latitude)) return nowhere;
  const inside = Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90;
  const grid = inside ? frame.projection.toGrid(at) : nowhere;
  const away_m = awayFrom(frame, grid);
  if (away_m <= frame.farFromCentreline_m) return grid;
  const swapped = frame.projection.toGrid({ longitude: latitude, latitude: longitude });
  const isSwapped = awayFrom(frame, swapped) <= frame.farFromCentreline_m;
  const shown = `${longitude}, ${latitude}`;
  const place = { file: table.file, row: table.row[i]!, field: "longitude" };
  const hint = isSwapped ? "latitude and longitude look swapped" : positionHint(at, frame);
  log.add({ ...farFault(frame, away_m, shown), ...place, hint, ...codeIf(isSwapped) });
  return nowhere;
}

function positionHint(at: LonLat, frame: Frame): string | null {
  const { longitude, latitude } = at;
  if (longitude === 0 && latitude === 0) {
    return "a GPS without a position writes 0, 0; leave the cells blank";
  }
  if (longitude === latitude && Math.abs(longitude) > 180) {
    return "looks like a mark for no position; leave the cells blank";
  }
  const isNear = (other: LonLat) =>
    Math.abs(other.longitude) <= 180 &&
    Math.abs(other.latitude) <= 90 &&
    awayFrom(frame, frame.projection.toGrid(other)) <= frame.farFromCentreline_m;
  if (isNear({ longitude: -longitude, latitude })) {
    return "the sign of the longitude looks wrong; west is below zero";
  }
  if (isNear({ longitude, latitude: -latitude })) {
    return "the sign of the latitude looks wrong; south is below zero";
  }
  return null;
}

function codeIf(isSwapped: boolean): { readonly code: string } {
  return { code: isSwapped ? "position-swapped" : "position-far" };
}

function farFault(frame: Frame, away_m: number, shown: string) {
  const away = away_m < 1e5 ? `, ${Math.round(away_m).toLocaleString("en")} m away` : "";
  return {
    rule: `within ${frame.farFromCentreline_m} m of the centreline`,
    value: `${shown}${away}`,
  };
}

/** Distance from the centreline, m; infinite where there is no position on the grid. */
function awayFrom({ centreline }: Frame, grid: Grid): number {
  const size = Math.max(Math.abs(grid.easting_m), Math.abs(grid.northing_m));
  return size <= LARGEST_COORDINATE_M ? chainageAt(centreline, grid).distance_m : Infinity;
}
