import { positionAt } from "../survey/bank/position.js";
import { READING_CAUSES } from "../survey/read/read-readings.js";
import type { Campaign, Cause, Centreline, FieldNote, Pass } from "../survey/survey.js";
import { bringTogether, type Together } from "./coregister/coregister.js";
import type { PlaceOptions } from "./options.js";
import type { Knot } from "./walk/bridge-gaps.js";
import { finishPass, type PassPlacement } from "./walk/finish-pass.js";
import {
  lagFromPegs,
  type PegCheck,
  pegCorrection,
  pegsOf,
  pegsPassed,
  pegsWithPosition,
} from "./walk/pegs.js";
import { type PlacedPass, placePass } from "./walk/place-pass.js";
import { coordinateBefore, courseOf } from "./walk/shift-in-time.js";
import { estimateLag } from "./walk/time-lag.js";

/** How the readings of a campaign got their places. */
export interface CampaignPlacement {
  readonly campaign: string;
  readonly passes: readonly PassPlacement[];
  /** The lag applied, s, and where it is from. */
  readonly lag_s: number;
  readonly lagFrom: "given" | "passes" | "pegs" | "not found";
  /** Likeness of passes in opposite directions at that lag; NaN where it is not from them. */
  readonly likeness: number;
  /** The passes against each other. */
  readonly together: Together;
  readonly pegs: readonly PegCheck[];
  readonly pegsUsed: boolean;
}

/** A campaign whose readings have their places, and how they got them. */
export interface PlacedCampaign {
  readonly campaign: Campaign;
  readonly placement: CampaignPlacement;
}

/**
 * Gives every reading of a campaign its place along the bank: positions smoothed and projected, gaps
 * bridged, lag and antenna taken out, passes that lie apart co-registered, chainages checked against
 * pegs or brought to them, readings made while standing still averaged. What is without a place or a
 * value is set aside.
 */
export function placeCampaign(campaign: Campaign, options: PlaceOptions): PlacedCampaign {
  const { centreline } = campaign;
  const notes = options.pegs === "ignore" ? [] : campaign.notes;
  const placed = campaign.passes.map((pass) =>
    placePass(pass, centreline, { options, knots: knotsOf(notes, pass) }),
  );
  const lag = lagOf(placed, notes, options);
  for (const one of placed) moveToCoils(one, { lag_s: lag.lag_s, options });
  const together = bringTogether(placed, options);
  const { antennaAhead_m, antennaLeft_m } = options;
  const isMoved = lag.lag_s !== 0 || antennaAhead_m !== 0 || antennaLeft_m !== 0;
  for (const [p, one] of placed.entries()) {
    putOnMap(one, centreline, isMoved || together.moved_m[p] !== 0 ? "all" : "bridged");
  }
  const pegs = allPegs(placed, notes);
  const pegsUsed = options.pegs === "correct" && toPegs(placed, pegs);
  const finished = placed.map((one) => finishPass(one, options));
  const passes = finished.map(({ pass }) => pass);
  return {
    campaign: { ...campaign, passes, causes: causesOf(passes) },
    placement: {
      campaign: campaign.label,
      passes: finished.map(({ report }) => report),
      ...lag,
      ...{ together, pegs, pegsUsed },
    },
  };
}

/** Brings the chainages to the pegs; false where the pegs give no correction. */
function toPegs(placed: readonly PlacedPass[], pegs: readonly PegCheck[]): boolean {
  const correction = pegCorrection(pegs);
  if (correction === null) return false;
  for (const { chainage_m } of placed) {
    for (const [i, x] of chainage_m.entries()) chainage_m[i] = x + correction(x);
  }
  return true;
}

/** The causes up to the highest mark that occurs; missing positions and values go together. */
function causesOf(passes: readonly Pass[]): readonly Cause[] {
  let highest = 0;
  for (const { setAside } of passes) {
    for (const mask of setAside) {
      for (const mark of mask) if (mark > highest) highest = mark;
    }
  }
  return highest === 0 ? [] : READING_CAUSES.slice(0, Math.max(2, highest));
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
  { timeLag_s }: PlaceOptions,
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
  readonly lag_s: number;
  readonly options: PlaceOptions;
}

/** From where the antenna was at a reading's time to where the coils measured it. */
function moveToCoils(placed: PlacedPass, { lag_s, options }: Move): void {
  const { chainage_m, offset_m, clock_s } = placed;
  const { antennaAhead_m, antennaLeft_m } = options;
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
}

/** Coordinates of rows whose chainage is no longer that of their own position. */
function putOnMap(placed: PlacedPass, centreline: Centreline, rows: "all" | "bridged"): void {
  const { chainage_m, offset_m, easting_m, northing_m, bridged } = placed;
  for (let i = 0; i < chainage_m.length; i++) {
    if (rows === "bridged" && bridged[i] === 0) continue;
    const at = positionAt(centreline, chainage_m[i]!, offset_m[i]!);
    easting_m[i] = at.easting_m;
    northing_m[i] = at.northing_m;
  }
}
