import { READING_CAUSES } from "../survey/reading-causes.js";
import type { Campaign, Cause, Pass } from "../survey/survey.js";
import { type Coregistration, coregister } from "./coregister/coregister.js";
import { moveToCoils, moveToPegs, putOnMap } from "./move-pass.js";
import type { PlaceOptions } from "./options.js";
import { lagFromPegs } from "./pegs/lag-from-pegs.js";
import { knotsOf, type PegCheck, pegsPassed, pegsWithPosition } from "./pegs/peg-checks.js";
import { finishPass, type PassPlacement } from "./walk/finish-pass.js";
import { type PlacedPass, placePass } from "./walk/place-pass.js";
import { courseOf } from "./walk/shift-in-time.js";
import { estimateLag } from "./walk/time-lag.js";

/** How the readings of a campaign got their places. */
export interface CampaignPlacement extends AppliedLag {
  readonly campaign: string;
  readonly passes: readonly PassPlacement[];
  readonly coregistration: Coregistration;
  readonly pegs: readonly PegCheck[];
  readonly pegsUsed: boolean;
}

interface AppliedLag {
  /** The lag applied, s, and where it is from. */
  readonly lag_s: number;
  readonly lagFrom: "given" | "passes" | "pegs" | "not found";
  /** Of passes in opposite directions at that lag; NaN where it is not from them. */
  readonly correlation: number;
}

/** A campaign whose readings have their places, and how they got them. */
export interface PlacedCampaign {
  readonly campaign: Campaign;
  readonly placement: CampaignPlacement;
}

/**
 * Gives every reading of a campaign its place along the bank: positions smoothed and projected,
 * gaps bridged, lag and antenna taken out, passes that lie apart co-registered, chainages checked
 * against pegs or brought to them, readings made while standing still averaged. What is without a
 * place or a value is set aside.
 */
export function placeCampaign(campaign: Campaign, options: PlaceOptions): PlacedCampaign {
  const { centreline } = campaign;
  const notes = options.pegs === "ignore" ? [] : campaign.notes;
  const placed = campaign.passes.map((pass) =>
    placePass(pass, centreline, { options, knots: knotsOf(notes, pass) }),
  );
  const pegsNow = () => [
    ...pegsWithPosition(notes),
    ...placed.flatMap((one) => pegsOnWalk(one, notes)),
  ];
  const lag = lagOf(placed, pegsNow, options);
  for (const one of placed) moveToCoils(one, { lag_s: lag.lag_s, ...options });
  const coregistration = coregister(placed, options);
  const isMoved = lag.lag_s !== 0 || options.antennaAhead_m !== 0 || options.antennaLeft_m !== 0;
  for (const [p, one] of placed.entries()) {
    const areAllMoved = isMoved || coregistration.moved_m[p] !== 0;
    putOnMap(one, centreline, areAllMoved ? "all" : "bridged");
  }
  const pegs = pegsNow();
  const pegsUsed = options.pegs === "correct" && moveToPegs(placed, pegs);
  const finished = placed.map((one) => finishPass(one, options));
  const passes = finished.map(({ pass }) => pass);
  const reports = finished.map(({ report }) => report);
  return {
    campaign: { ...campaign, passes, causes: causesOf(passes) },
    placement: {
      campaign: campaign.label,
      passes: reports,
      ...lag,
      coregistration,
      pegs,
      pegsUsed,
    },
  };
}

function pegsOnWalk({ pass, clock_s, chainage_m }: PlacedPass, notes: Campaign["notes"]) {
  return pegsPassed(notes, { file: pass.file, course: courseOf(clock_s, chainage_m), chainage_m });
}

/** The causes up to the highest mark that occurs; missing positions and values go together. */
function causesOf(passes: readonly Pass[]): readonly Cause[] {
  let highest = 0;
  for (const { setAside } of passes) {
    for (const mask of setAside) for (const mark of mask) highest = Math.max(highest, mark);
  }
  return highest === 0 ? [] : READING_CAUSES.slice(0, Math.max(2, highest));
}

function lagOf(
  placed: readonly PlacedPass[],
  pegsNow: () => readonly PegCheck[],
  { timeLag_s }: PlaceOptions,
): AppliedLag {
  const correlation = Number.NaN;
  if (timeLag_s !== "estimate") return { lag_s: timeLag_s, lagFrom: "given", correlation };
  const found = estimateLag(placed);
  if (found !== null) {
    return { lag_s: found.lag_s, lagFrom: "passes", correlation: found.correlation };
  }
  const byPegs = lagFromPegs(pegsNow());
  return byPegs === null
    ? { lag_s: 0, lagFrom: "not found", correlation }
    : { lag_s: byPegs, lagFrom: "pegs", correlation };
}
