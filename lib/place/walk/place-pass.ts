import { stationing } from "../../survey/bank/chainage.js";
import type { Centreline, Pass } from "../../survey/survey.js";
import type { PlaceOptions } from "../options.js";
import { type BridgeLimits, bridgeGaps, type Knot, type PositionGap } from "./bridge-gaps.js";
import { clockOf } from "./clock.js";
import { type Leg, legsOf, stepsBack } from "./legs.js";
import { smoothTrack } from "./smooth-track.js";

/** A pass whose readings have their places; arrays may still be written into. */
export interface PlacedPass {
  readonly pass: Pass;
  readonly clock_s: Float64Array;
  readonly line: readonly string[];
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  readonly chainage_m: Float64Array;
  readonly offset_m: Float64Array;
  readonly sd_m: Float64Array;
  readonly bridged: Uint8Array;
  /** n speeds, m/s; NaN where the walk was not smoothed. */
  readonly speed_m_per_s: Float64Array;
  readonly gaps: readonly PositionGap[];
  /** NaN where the walk was not smoothed. */
  readonly jitter_m: number;
  readonly spikes: number;
  readonly legs: readonly Leg[];
  readonly back: readonly Leg[];
}

/** Fewer positions than this say nothing of their jitter. */
const LEAST_POSITIONS = 10;
/** A pause longer than this parts two walks, s. */
const PAUSE_S = 60;

/** Smooths, stations and bridges the positions of one pass. */
export function placePass(
  pass: Pass,
  centreline: Centreline,
  { options, knots }: { readonly options: PlaceOptions; readonly knots: readonly Knot[] },
): PlacedPass {
  const clock_s = clockOf(pass.time_s);
  const smooth = smoothed(pass, clock_s, options);
  const { easting_m, northing_m, sd_m } = smooth;
  const track = { easting_m, northing_m, line: pass.line };
  const { chainage_m, offset_m } = stationing(centreline, track);
  const bridged = new Uint8Array(pass.count);
  const placed = { clock_s, line: pass.line, chainage_m, offset_m, sd_m, bridged };
  const limits: BridgeLimits = options;
  const gaps = bridgeGaps(placed, knots, limits);
  const legs = legsOf(chainage_m, pass.line);
  return { pass, ...placed, ...smooth, gaps, legs, back: stepsBack(legs) };
}

interface SmoothedPass {
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  readonly sd_m: Float64Array;
  readonly speed_m_per_s: Float64Array;
  readonly jitter_m: number;
  readonly spikes: number;
}

function smoothed(pass: Pass, clock_s: Float64Array, options: PlaceOptions): SmoothedPass {
  const easting_m = Float64Array.from(pass.easting_m);
  const northing_m = Float64Array.from(pass.northing_m);
  const sd_m = easting_m.map((east) => (Number.isNaN(east) ? east : options.gpsError_m));
  const speed_m_per_s = new Float64Array(pass.count).fill(Number.NaN);
  let [jitter, weight, spikes] = [0, 0, 0];
  const walks = options.jitter === "smooth" ? timedWalks(pass, clock_s) : [];
  for (const { first, last } of walks) {
    const part = (values: Float64Array) => values.subarray(first, last + 1);
    const [east, north] = [part(easting_m), part(northing_m)];
    const raw = { time_s: part(clock_s), easting_m: east.slice(), northing_m: north.slice() };
    if (raw.easting_m.filter((x) => !Number.isNaN(x)).length < LEAST_POSITIONS) continue;
    const smooth = smoothTrack(raw);
    if (smooth === null) continue;
    for (let i = 0; i < east.length; i++) {
      if (Number.isNaN(east[i]!)) continue;
      east[i] = smooth.easting_m[i]!;
      north[i] = smooth.northing_m[i]!;
      sd_m[first + i] = Math.hypot(options.gpsError_m, smooth.sd_m[i]!);
      speed_m_per_s[first + i] = smooth.speed_m_per_s[i]!;
      spikes += smooth.spike[i]!;
    }
    jitter += smooth.jitter_m * east.length;
    weight += east.length;
  }
  const jitter_m = weight > 0 ? jitter / weight : Number.NaN;
  return { easting_m, northing_m, sd_m, speed_m_per_s, jitter_m, spikes };
}

/** Runs of rows that have a time, of one line, without a pause or a step back in time. */
function timedWalks({ line }: Pass, clock_s: Float64Array) {
  const walks: { first: number; last: number }[] = [];
  for (let i = 0; i < clock_s.length; i++) {
    if (Number.isNaN(clock_s[i]!)) continue;
    const step_s = clock_s[i]! - clock_s[i - 1]!;
    const goesOn = step_s >= 0 && step_s <= PAUSE_S && line[i] === line[i - 1];
    if (goesOn && walks.length > 0) walks.at(-1)!.last = i;
    else walks.push({ first: i, last: i });
  }
  return walks;
}
