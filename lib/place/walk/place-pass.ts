import { valueAt } from "../../numerics/arrays.js";
import type { RowRun } from "../../numerics/runs.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { stationing } from "../../survey/bank/stationing.js";
import type { Centreline, Pass } from "../../survey/survey.js";
import type { PlaceOptions } from "../options.js";
import { bridgeGaps, type Knot, type PlacedReadings, type PositionGap } from "./bridge-gaps.js";
import { clockOf } from "./clock.js";
import { type Leg, legsOf, stepsBack } from "./legs.js";
import { smoothTrack } from "./smooth-track.js";

/** A pass whose readings have their places; arrays may still be written into. */
export interface PlacedPass extends PlacedReadings, SmoothedPass {
  readonly pass: Pass;
  readonly gaps: readonly PositionGap[];
  readonly legs: readonly Leg[];
  readonly back: readonly Leg[];
}

interface SmoothedPass {
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  readonly sd_m: Float64Array;
  /** n speeds, m/s; NaN where the walk was not smoothed. */
  readonly speed_m_per_s: Float64Array;
  /** NaN where the walk was not smoothed. */
  readonly jitter_m: number;
  readonly spikes: number;
}

/** With fewer positions than this there is no estimate of their jitter. */
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
  const { chainage_m, offset_m } = stationing(centreline, { ...smooth, line: pass.line });
  const bridged = new Uint8Array(pass.count);
  const placed = { ...smooth, clock_s, line: pass.line, chainage_m, offset_m, bridged };
  const gaps = bridgeGaps(placed, knots, options);
  const legs = legsOf(chainage_m, pass.line);
  return { pass, ...placed, gaps, legs, back: stepsBack(legs) };
}

function smoothed(pass: Pass, clock_s: Float64Array, options: PlaceOptions): SmoothedPass {
  const easting_m = Float64Array.from(pass.easting_m);
  const northing_m = Float64Array.from(pass.northing_m);
  const sd_m = easting_m.map((east) => (Number.isNaN(east) ? east : options.gpsError_m));
  const speed_m_per_s = new Float64Array(pass.count).fill(Number.NaN);
  let [jitter, weight, spikes] = [0, 0, 0];
  const walks = options.jitter === "smooth" ? timedWalks(pass, clock_s) : [];
  for (const { first, last } of walks) {
    const part = (values: Float64Array) => values.slice(first, last + 1);
    const raw = { time_s: part(clock_s), x_m: part(easting_m), y_m: part(northing_m) };
    const smooth = presentCount(raw.x_m) < LEAST_POSITIONS ? null : smoothTrack(raw);
    if (smooth === null) continue;
    const { vx_m_per_s, vy_m_per_s } = smooth;
    for (const [i, x_m] of raw.x_m.entries()) {
      if (Number.isNaN(x_m)) continue;
      easting_m[first + i] = valueAt(smooth.x_m, i);
      northing_m[first + i] = valueAt(smooth.y_m, i);
      sd_m[first + i] = Math.hypot(options.gpsError_m, valueAt(smooth.sd_m, i));
      speed_m_per_s[first + i] = Math.hypot(valueAt(vx_m_per_s, i), valueAt(vy_m_per_s, i));
      spikes += smooth.spike[i] ?? 0;
    }
    jitter += smooth.jitter_m * raw.x_m.length;
    weight += raw.x_m.length;
  }
  const jitter_m = weight > 0 ? jitter / weight : Number.NaN;
  return { easting_m, northing_m, sd_m, speed_m_per_s, jitter_m, spikes };
}

/** Runs of rows that have a time, of one line, without a pause or a step back in time. */
function timedWalks({ line }: Pass, clock_s: Float64Array): readonly RowRun[] {
  const walks: { first: number; last: number }[] = [];
  for (const [i, time_s] of clock_s.entries()) {
    if (Number.isNaN(time_s)) continue;
    const step_s = time_s - valueAt(clock_s, i - 1);
    const open = walks.at(-1);
    if (open && step_s >= 0 && step_s <= PAUSE_S && line[i] === line[i - 1]) open.last = i;
    else walks.push({ first: i, last: i });
  }
  return walks;
}
