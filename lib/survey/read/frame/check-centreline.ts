import { neighbours } from "../../../numerics/arrays.js";
import type { LonLat } from "../../bank/projection.js";
import type { FaultLog } from "../../check/faults.js";

/** More than a vertex a metre on 20 km says nothing more of a bank. */
const MOST_VERTICES = 20_000;
/** A map grid holds good for a bank of this reach, km. */
const WIDEST_KM = 300;
/** A line that turns more than this goes back on itself, degrees; from there on it may. */
const BACK_DEG = 170;
const SHARP_DEG = 135;
/** Legs shorter than this may be those of a position that jumped, m. */
const SHORTEST_LEG_M = 2;
const KM_PER_DEGREE = 111.2;

/** Logs a centreline along which no chainage can be told; false where it cannot be used. */
export function checkCentreline(
  vertices: readonly LonLat[],
  file: string,
  log: FaultLog,
): vertices is readonly [LonLat, ...LonLat[]] {
  const [first] = vertices;
  if (first === undefined) return false;
  if (vertices.length > MOST_VERTICES) {
    const rule = `a line of ${MOST_VERTICES.toLocaleString("en")} vertices at the most`;
    const value = vertices.length.toLocaleString("en");
    log.add({ code: "centreline-vertices", file, rule, value, hint: "simplify it to 0.1 m" });
    return false;
  }
  const far = vertices.findIndex((vertex) => !(distance_km(first, vertex) <= WIDEST_KM));
  if (far >= 0) {
    const rule = `within ${WIDEST_KM} km of the first vertex`;
    const away_km = distance_km(first, vertices[far] ?? first);
    const value = `${Math.round(away_km).toLocaleString("en")} km`;
    log.add({ code: "centreline-extent", file, field: `coordinates[${far}]`, rule, value });
    return false;
  }
  checkTurns(vertices, file, log);
  noteCrossing(vertices, file, log);
  return true;
}

function checkTurns(vertices: readonly LonLat[], file: string, log: FaultLog): void {
  const apart = vertices
    .map((vertex, i) => ({ vertex, i }))
    .filter(({ vertex, i }) => i === 0 || distance_km(vertices[i - 1] ?? vertex, vertex) > 1e-6);
  for (const [k, { vertex, i }] of apart.entries()) {
    const [before, after] = [apart[k - 1], apart[k + 1]];
    if (before === undefined || after === undefined) continue;
    const legs_m = [before, after].map((end) => 1000 * distance_km(end.vertex, vertex));
    const turn_deg = turned_deg(before.vertex, vertex, after.vertex);
    if (turn_deg > BACK_DEG && Math.min(...legs_m) > SHORTEST_LEG_M) {
      const rule = "a vertex that the line goes on from";
      const value = `a turn of ${turn_deg.toFixed(0)} degrees`;
      const hint = "the line goes back on itself: chainage would be told twice";
      const place = { file, field: `coordinates[${i}]` };
      log.add({ code: "centreline-turns-back", ...place, rule, value, hint });
    } else if (turn_deg > SHARP_DEG) {
      log.caution(`${file} turns by ${turn_deg.toFixed(0)} degrees at coordinates[${i}]`);
    }
  }
}

/** Longer lines are not searched for crossings: pairs of legs are many. */
const SEARCHED = 2000;

/** Notes a line that crosses itself: a place there has two chainages. */
function noteCrossing(vertices: readonly LonLat[], file: string, log: FaultLog): void {
  if (vertices.length > SEARCHED) return;
  const legs = neighbours(vertices);
  const [first, last] = [vertices[0], vertices.at(-1)];
  if (first && last && vertices.length > 3 && distance_km(first, last) < 1e-3) {
    log.caution(`${file} is a ring: where it closes, a place has two chainages`);
  }
  for (const [i, one] of legs.entries()) {
    const j = legs.findIndex((other, k) => k > i + 1 && doCross(one, other));
    if (j < 0) continue;
    log.caution(`${file} crosses itself: from coordinates[${i}] and from coordinates[${j}] on`);
    return;
  }
}

type Leg = readonly [LonLat, LonLat];

function doCross(one: Leg, other: Leg): boolean {
  return areOnBothSides(one, other) && areOnBothSides(other, one);
}

function areOnBothSides([from, to]: Leg, [a, b]: Leg): boolean {
  const side = ({ longitude, latitude }: LonLat) =>
    (to.longitude - from.longitude) * (latitude - from.latitude) -
    (to.latitude - from.latitude) * (longitude - from.longitude);
  return side(a) * side(b) < 0;
}

/** Great-circle distance, by the haversine. */
function distance_km(one: LonLat, other: LonLat): number {
  const rad = Math.PI / 180;
  const across = Math.sin(((other.latitude - one.latitude) * rad) / 2);
  const along = Math.sin(((other.longitude - one.longitude) * rad) / 2);
  const cosines = Math.cos(one.latitude * rad) * Math.cos(other.latitude * rad);
  const half = Math.min(1, Math.hypot(across, Math.sqrt(cosines) * along));
  return (2 * KM_PER_DEGREE * Math.asin(half)) / rad;
}

/** By how much the direction changes at a vertex, 0 to 180 degrees. */
function turned_deg(before: LonLat, at: LonLat, after: LonLat): number {
  const shrink = Math.cos((at.latitude * Math.PI) / 180);
  const leg = (from: LonLat, to: LonLat) =>
    Math.atan2(to.latitude - from.latitude, shrink * (to.longitude - from.longitude));
  const turn = Math.abs(leg(at, after) - leg(before, at));
  return (180 / Math.PI) * Math.min(turn, 2 * Math.PI - turn);
}
