import type { Knot, PositionGap } from "./bridge-gaps.js";
import { lastAtMost } from "./clock.js";
import {
  lagFromPegs,
  type PegCheck,
  pegCorrection,
  pegsOf,
  pegsPassed,
  pegsWithPosition,
} from "./pegs.js";
import type { PlaceUsed } from "./place-options.js";
import { type PlacedPass, placePass } from "./place-pass.js";
import { positionAt } from "./position.js";
import { MARKS } from "./read-readings.js";
import { coordinateBefore, courseOf } from "./shift-in-time.js";
import { piecesOfStandstill, standstills } from "./standstill.js";
import type { Centreline, FieldNote, Pass } from "./survey.js";
import { estimateLag } from "./time-lag.js";

/** How the readings of a campaign got their places. */
export interface CampaignPlacement {
  readonly campaign: string;
  readonly passes: readonly PassPlacement[];
  /** The lag applied, s, and where it is from. */
  readonly lag_s: number;
  readonly lagFrom: "given" | "passes" | "pegs" | "not found";
  /** Likeness of passes in opposite directions at that lag; NaN where it is not from them. */
  readonly likeness: number;
  readonly pegs: readonly PegCheck[];
  readonly pegsUsed: boolean;
}

export interface PassPlacement {
  readonly file: string;
  /** Rows with a position in the file. */
  readonly positions: number;
  /** From one position to the next, m; NaN where the walk was not smoothed. */
  readonly jitter_m: number;
  readonly spikes: number;
  readonly gaps: readonly PositionGap[];
  readonly bridged: number;
  /** Readings made while standing still, and the readings that stand for them. */
  readonly stood: number;
  readonly stoodKept: number;
  /** Rows that are the row before once more. */
  readonly sameAgain: number;
  /** Stretches walked backwards and their length, m. */
  readonly stepsBack: number;
  readonly stepsBack_m: number;
  /** Stretches of one direction, longer than the steps back. */
  readonly walks: number;
}

interface CampaignRead {
  readonly passes: readonly Pass[];
  readonly notes: readonly FieldNote[];
  readonly centreline: Centreline;
}

/**
 * Gives every reading of a campaign its place along the bank: positions smoothed and projected, gaps
 * bridged, lag and antenna taken out, chainages checked against pegs or brought to them, readings made
 * while standing still averaged. What is without a place or a value is set aside.
 */
export function placeCampaign(
  { passes, notes, centreline }: CampaignRead,
  options: PlaceUsed,
): { readonly passes: readonly Pass[]; readonly placement: Omit<CampaignPlacement, "campaign"> } {
  const useful = options.pegs === "ignore" ? [] : notes;
  const placed = passes.map((pass) => {
    const knots = knotsOf(useful, pass);
    return placePass(pass, centreline, { options, knots });
  });
  const { lag_s, lagFrom, likeness } = lagOf(placed, useful, options);
  for (const one of placed) moveToCoils(one, { centreline, lag_s, options });
  const pegs = allPegs(placed, useful);
  const correction = options.pegs === "correct" ? pegCorrection(pegs) : null;
  if (correction !== null) {
    for (const { chainage_m } of placed) {
      for (const [i, x] of chainage_m.entries()) chainage_m[i] = x + correction(x);
    }
  }
  const finished = placed.map((one) => finish(one, options));
  return {
    passes: finished.map(({ pass }) => pass),
    placement: {
      passes: finished.map(({ report }) => report),
      ...{ lag_s, lagFrom, likeness, pegs, pegsUsed: correction !== null },
    },
  };
}

/** Pegs passed while a pass was walked. */
function knotsOf(notes: readonly FieldNote[], { time_s }: Pass): readonly Knot[] {
  const [first, last] = [
    time_s.find((t) => !Number.isNaN(t)),
    time_s.findLast((t) => !Number.isNaN(t)),
  ];
  return pegsOf(notes)
    .filter((note) => note.time_s !== null && note.time_s >= first! && note.time_s <= last!)
    .map((note) => ({ time_s: note.time_s!, chainage_m: note.from_m }))
    .sort((one, other) => one.time_s - other.time_s);
}

function allPegs(placed: readonly PlacedPass[], notes: readonly FieldNote[]): readonly PegCheck[] {
  const passed = placed.flatMap(({ pass, clock_s, chainage_m }) =>
    pegsPassed(notes, { file: pass.file, course: courseOf(clock_s, chainage_m), chainage_m }),
  );
  return [...pegsWithPosition(notes), ...passed];
}

function lagOf(
  placed: readonly PlacedPass[],
  notes: readonly FieldNote[],
  { timeLag_s }: PlaceUsed,
): Pick<CampaignPlacement, "lag_s" | "lagFrom" | "likeness"> {
  if (timeLag_s !== "estimate") {
    return { lag_s: timeLag_s, lagFrom: "given", likeness: Number.NaN };
  }
  const found = estimateLag(
    placed.map(({ pass, clock_s, chainage_m }) => ({
      clock_s,
      chainage_m,
      line: pass.line,
      channels: pass.instrument.channels,
      values: pass.values,
    })),
  );
  if (found !== null) return { lag_s: found.lag_s, lagFrom: "passes", likeness: found.likeness };
  const byPegs = lagFromPegs(allPegs(placed, notes));
  if (byPegs !== null) return { lag_s: byPegs, lagFrom: "pegs", likeness: Number.NaN };
  return { lag_s: 0, lagFrom: "not found", likeness: Number.NaN };
}

interface Move {
  readonly centreline: Centreline;
  readonly lag_s: number;
  readonly options: PlaceUsed;
}

/** From where the antenna was at a reading's time to where the coils measured it. */
function moveToCoils(placed: PlacedPass, { centreline, lag_s, options }: Move): void {
  const { chainage_m, offset_m, clock_s, easting_m, northing_m, bridged } = placed;
  const { antennaAhead_m, antennaLeft_m } = options;
  const moves = lag_s !== 0 || antennaAhead_m !== 0 || antennaLeft_m !== 0;
  if (antennaAhead_m !== 0 || antennaLeft_m !== 0) {
    for (const { first, last, way } of placed.legs) {
      for (let i = first; i <= last; i++) {
        chainage_m[i]! -= way * antennaAhead_m;
        offset_m[i]! -= way * antennaLeft_m;
      }
    }
  }
  if (lag_s !== 0) {
    const course = courseOf(clock_s, chainage_m);
    for (const values of [chainage_m, offset_m]) {
      const before = coordinateBefore(course, values, lag_s);
      for (const [k, row] of course.rows.entries()) values[row] = before[k]!;
    }
  }
  for (let i = 0; i < chainage_m.length; i++) {
    if (!moves && bridged[i] === 0) continue;
    const at = positionAt(centreline, chainage_m[i]!, offset_m[i]!);
    easting_m[i] = at.easting_m;
    northing_m[i] = at.northing_m;
  }
}

function finish(placed: PlacedPass, options: PlaceUsed) {
  const { pass, clock_s, chainage_m, offset_m, easting_m, northing_m, sd_m, bridged } = placed;
  const setAside = setAsideAtFirst(pass.values, chainage_m);
  const sameAgain = markSameAgain(pass, setAside);
  const still = options.standstill === "average" ? standstills(placed.speed_m_per_s, clock_s) : [];
  const averaged = average(pass, { clock_s, still, setAside });
  const finished: Pass = {
    ...pass,
    ...{ easting_m, northing_m, chainage_m, offset_m, setAside },
    values: averaged.values,
    corrected: averaged.corrected,
    positionSd_m: sd_m,
    positionBridged: bridged,
  };
  const back_m = placed.back.reduce((sum, { from_m, to_m }) => sum + Math.abs(to_m - from_m), 0);
  const report: PassPlacement = {
    file: pass.file,
    positions: pass.easting_m.filter((x) => !Number.isNaN(x)).length,
    jitter_m: placed.jitter_m,
    spikes: placed.spikes,
    gaps: placed.gaps,
    bridged: bridged.reduce((sum, flag) => sum + flag, 0),
    stood: averaged.stood,
    stoodKept: averaged.kept,
    sameAgain,
    stepsBack: placed.back.length,
    stepsBack_m: back_m,
    walks: placed.legs.length - 2 * placed.back.length,
  };
  return { pass: finished, report };
}

/** No value: the channel. No position: every channel, unless the row is empty anyway. */
function setAsideAtFirst(values: readonly Float64Array[], chainage_m: Float64Array): Uint8Array[] {
  const isEmpty = Uint8Array.from(chainage_m, (_, i) =>
    values.every((column) => Number.isNaN(column[i]!)) ? 1 : 0,
  );
  return values.map((column) =>
    Uint8Array.from(column, (value, i) => {
      if (Number.isNaN(chainage_m[i]!) && isEmpty[i] === 0) return MARKS.noPosition;
      return Number.isNaN(value) ? MARKS.noValue : 0;
    }),
  );
}

/** Rows that say in everything what the row before says are one reading, not two. */
function markSameAgain(pass: Pass, setAside: readonly Uint8Array[]): number {
  const same = (column: Float64Array, i: number) => Object.is(column[i], column[i - 1]);
  const columns = [pass.time_s, pass.easting_m, pass.northing_m, pass.height_m, ...pass.values];
  let count = 0;
  for (let i = 1; i < pass.count; i++) {
    if (Number.isNaN(pass.time_s[i]!) || !same(pass.time_s, i)) continue;
    if (!columns.every((column) => same(column, i))) continue;
    count += 1;
    for (const mask of setAside) if (mask[i] === 0) mask[i] = MARKS.sameAgain;
  }
  return count;
}

interface Averaging {
  readonly clock_s: Float64Array;
  readonly still: ReturnType<typeof standstills>;
  readonly setAside: readonly Uint8Array[];
}

/** One reading in the middle of each piece of a standstill takes the means of the piece. */
function average(pass: Pass, { clock_s, still, setAside }: Averaging) {
  const pieces = still
    .flatMap((run) => piecesOfStandstill(run, clock_s))
    .filter(({ first, last }) => last > first);
  if (pieces.length === 0) {
    return { values: pass.values, corrected: pass.corrected, stood: 0, kept: 0 };
  }
  const values = pass.values.map((column) => Float64Array.from(column));
  const corrected = Uint8Array.from(pass.corrected);
  let stood = 0;
  for (const { first, last } of pieces) {
    const middle = lastAtMost(clock_s, (clock_s[first]! + clock_s[last]!) / 2, [first, last]);
    stood += last - first + 1;
    corrected[middle] = 1;
    for (const [c, column] of values.entries()) {
      const mask = setAside[c]!;
      let [sum, count] = [0, 0];
      for (let i = first; i <= last; i++) {
        if (mask[i] !== 0) continue;
        sum += column[i]!;
        count += 1;
        if (i !== middle) mask[i] = MARKS.stoodStill;
      }
      if (count === 0) continue;
      column[middle] = sum / count;
      mask[middle] = 0;
    }
  }
  return { values, corrected, stood, kept: pieces.length };
}
