import { itemAt } from "../../../numerics/arrays.js";
import { distance_m, type Grid } from "../../bank/projection.js";

/** Vertices of a line made from a walk stand this far apart, m, and smooth as much of the walk. */
const STEP_M = 10;
/** A vertex this close to the straight line between its neighbours tells nothing, m. */
const STRAIGHT_M = 0.5;

/**
 * A centreline from the positions of a walk, in their order: the leg from one end of the walk to
 * the other, its positions averaged over 10 m, thinned to half a metre. It errs as the positions
 * do.
 */
export function lineOfWalk(walk: readonly Grid[]): readonly Grid[] {
  return thinned(stepped(longestLeg(walk)));
}

/** From the position farthest from the middle to the one farthest from that. */
function longestLeg(walk: readonly Grid[]): readonly Grid[] {
  if (walk.length < 2) return walk;
  const start = farthest(walk, itemAt(walk, Math.floor(walk.length / 2)));
  const end = farthest(walk, itemAt(walk, start));
  const [from, to] = start < end ? [start, end] : [end, start];
  return walk.slice(from, to + 1);
}

function farthest(walk: readonly Grid[], from: Grid): number {
  let [at, most] = [0, -1];
  for (const [i, place] of walk.entries()) {
    const away = distance_m(from, place);
    if (away > most) [at, most] = [i, away];
  }
  return at;
}

/** The ends, and means of the positions over each further step between them. */
function stepped(leg: readonly Grid[]): readonly Grid[] {
  const [first] = leg;
  const last = leg.at(-1);
  if (first === undefined || last === undefined || leg.length < 2) return leg;
  const vertices = [first];
  let group: Grid[] = [];
  for (const place of leg) {
    const from = vertices.at(-1) ?? first;
    const away = distance_m(from, place);
    if (away >= STEP_M / 2 && distance_m(place, last) >= STEP_M / 2) group.push(place);
    if (away < 1.5 * STEP_M || group.length === 0) continue;
    vertices.push(meanOf(group));
    group = [];
  }
  return [...vertices, last];
}

function meanOf(places: readonly Grid[]): Grid {
  const mean = (key: keyof Grid) =>
    places.reduce((sum, place) => sum + place[key], 0) / places.length;
  return { easting_m: mean("easting_m"), northing_m: mean("northing_m") };
}

/** Douglas and Peucker (1973): the vertices that the line cannot do without. */
function thinned(line: readonly Grid[]): readonly Grid[] {
  const [first] = line;
  const last = line.at(-1);
  if (first === undefined || last === undefined || line.length < 3) return line;
  let [at, most] = [0, 0];
  for (let i = 1; i < line.length - 1; i++) {
    const away = awayFrom(itemAt(line, i), first, last);
    if (away > most) [at, most] = [i, away];
  }
  if (most <= STRAIGHT_M) return [first, last];
  return [...thinned(line.slice(0, at + 1)), ...thinned(line.slice(at)).slice(1)];
}

function awayFrom(place: Grid, from: Grid, to: Grid): number {
  const length_m = distance_m(from, to);
  const [dx, dy] = [to.easting_m - from.easting_m, to.northing_m - from.northing_m];
  const [px, py] = [place.easting_m - from.easting_m, place.northing_m - from.northing_m];
  return length_m === 0 ? distance_m(place, from) : Math.abs(dx * py - dy * px) / length_m;
}
