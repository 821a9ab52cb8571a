// A survey folder with walks whose every place is known: jitter, spikes, gaps, lag, pegs on
// request.
import { seededRandom } from "../../../lib/numerics/random.js";
import { mapProjection, utmDefinition } from "../../../lib/survey/bank/projection.js";
import { minimalSurvey, resourceOf, type SketchedFolder } from "./survey-folder.js";

export interface WalkSketch {
  readonly seed?: number;
  /** Readings a pass, one a second; default 500. */
  readonly readings?: number;
  /** Default: one pass toward increasing chainage. */
  readonly passes?: readonly { readonly way: 1 | -1 }[];
  readonly jitter_m?: number;
  /** Rows whose position lies 30 m off. */
  readonly spikes?: readonly number[];
  /** Rows without a position, from and up to. */
  readonly gaps?: readonly (readonly [number, number])[];
  /** The receiver gives a new position at every so many-th row. */
  readonly held?: number;
  /** Values belong where the walker was so long before. */
  readonly lag_s?: number;
  /** Positions are those of so long before. */
  readonly gpsLate_s?: number;
  /** Standard deviation of a value, mS/m; default 0.3. The ground swings by about 6. */
  readonly noise?: number;
  /** Marks with the time at which the walker passed them at a row. */
  readonly pegs?: readonly {
    readonly row: number;
    readonly pass?: number;
    readonly stretch?: number;
  }[];
  readonly stand?: { readonly row: number; readonly readings: number };
  readonly back?: { readonly row: number; readonly readings: number };
  /** Jump of the walk at row 101, m. */
  readonly leap_m?: number;
}

export interface WalkedSurvey extends SketchedFolder {
  /** For each pass the chainage at each row, and the one that its value belongs to. */
  readonly truth_m: readonly (readonly number[])[];
  readonly lagged_m: readonly (readonly number[])[];
}

const PACE = 1.2;
const projection = mapProjection(32631, utmDefinition(32631)!);
/** Due east from 3° E, 54° N, where grid metres are 0.9996 of ground metres. */
const START = projection.toGrid({ longitude: 3, latitude: 54 });
const LENGTH_M = 640;

const lonLat = (chainage_m: number, offset_m: number) =>
  projection.toLonLat({
    easting_m: START.easting_m + 0.9996 * chainage_m,
    northing_m: START.northing_m + 0.9996 * offset_m,
  });

export function walkedSurvey(sketch: WalkSketch): WalkedSurvey {
  const survey = minimalSurvey();
  const ends = [lonLat(0, 0), lonLat(LENGTH_M, 0)].map((at) => [at.longitude, at.latitude]);
  const line = { type: "LineString", coordinates: ends };
  survey.files["centreline.geojson"] = [JSON.stringify(line)];
  survey.package.survey = { crs: 32631 };
  const readings = resourceOf(survey, "readings");
  survey.package.resources = survey.package.resources.slice(0, 1);
  delete survey.files["walk.csv"];
  const random = seededRandom(sketch.seed ?? 1);
  const waves = Array.from({ length: 12 }, () => ({
    k: (2 * Math.PI) / (6 + 50 * random.uniform()),
    phase: 6 * random.uniform(),
  }));
  const ground = (x: number) =>
    60 + 2.5 * waves.reduce((sum, { k, phase }) => sum + Math.sin(k * x + phase), 0);
  const passes = sketch.passes ?? [{ way: 1 as const }];
  const walks = passes.map(({ way }, p) => {
    const walk = { way, start_s: Date.UTC(2031, 9, 14, 8 + p) / 1000 };
    const path = pathOf(sketch, way, random);
    const rows = path.slice(10, -10);
    survey.package.resources.push({
      ...readings,
      name: `walk-${p + 1}`,
      path: `walk-${p + 1}.csv`,
    });
    survey.files[`walk-${p + 1}.csv`] = linesOf({ sketch, path, ground, random, ...walk });
    const lag = sketch.lag_s ?? 0;
    return { rows, lagged: rows.map((_, i) => at(path, i + 10 - lag)), ...walk };
  });
  addPegs(survey, sketch, walks);
  return {
    ...survey,
    truth_m: walks.map(({ rows }) => rows),
    lagged_m: walks.map(({ lagged }) => lagged),
  };
}

/** Chainage each second, ten seconds more at both ends. */
function pathOf(
  sketch: WalkSketch,
  way: 1 | -1,
  random: ReturnType<typeof seededRandom>,
): number[] {
  const n = (sketch.readings ?? 500) + 20;
  const path: number[] = [];
  let [x, pace] = [way > 0 ? 8 : LENGTH_M - 8, PACE];
  for (let k = 0; k < n; k++) {
    path.push(x);
    const row = k - 10;
    pace += 0.08 * (PACE - pace) + 0.02 * random.normal();
    const within = (run: WalkSketch["stand"]) =>
      run !== undefined && row >= run.row && row < run.row + run.readings;
    const step = within(sketch.stand) ? 0 : within(sketch.back) ? -pace : pace;
    x += way * step + (row === 100 ? way * (sketch.leap_m ?? 0) : 0);
  }
  return path;
}

function at(path: readonly number[], k: number): number {
  const low = Math.max(0, Math.min(path.length - 2, Math.floor(k)));
  return path[low]! + (k - low) * (path[low + 1]! - path[low]!);
}

interface Walk {
  readonly sketch: WalkSketch;
  readonly path: readonly number[];
  readonly ground: (chainage_m: number) => number;
  readonly random: ReturnType<typeof seededRandom>;
  readonly start_s: number;
}

function linesOf({ sketch, path, ground, random, start_s }: Walk): string[] {
  const { jitter_m = 0, noise = 0.3, held = 1, lag_s = 0, gpsLate_s = 0 } = sketch;
  const lines = ["time,longitude,latitude,c_hcp,c_vcp"];
  let place = "";
  for (let row = 0; row < path.length - 20; row++) {
    const time = new Date(1000 * (start_s + row)).toISOString();
    const stray = (sketch.spikes ?? []).includes(row) ? 30 : 0;
    const x = at(path, row + 10 - gpsLate_s) + jitter_m * random.normal() + stray;
    const { longitude, latitude } = lonLat(x, jitter_m * random.normal() - stray / 3);
    if (row % held === 0) place = `${longitude.toFixed(8)},${latitude.toFixed(8)}`;
    const isHidden = (sketch.gaps ?? []).some(([from, to]) => row >= from && row < to);
    const value = ground(at(path, row + 10 - lag_s));
    const values = [value, 0.8 * value].map((v) => (v + noise * random.normal()).toFixed(2));
    lines.push([time, isHidden ? "," : place, ...values].join(","));
  }
  return lines;
}

function addPegs(
  survey: SketchedFolder,
  { pegs }: WalkSketch,
  walks: readonly { readonly rows: readonly number[]; readonly start_s: number }[],
): void {
  if (pegs === undefined) return;
  survey.package.resources.push({ name: "notes", path: "notes.csv", role: "field-notes" });
  survey.files["notes.csv"] = [
    "kind,object,from_m,to_m,time",
    ...pegs.map(({ row, pass = 0, stretch = 1 }, k) => {
      const walk = walks[pass]!;
      const x = (stretch * walk.rows[row]!).toFixed(2);
      return `mark,peg ${k + 1},${x},${x},${new Date(1000 * (walk.start_s + row)).toISOString()}`;
    }),
  ];
}
