import { itemAt } from "../../numerics/arrays.js";
import { madScale, median, quantile } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../campaign.js";
import type { Pass } from "../pass.js";

/** Readings that jump from one to the next by more than ground and noise make them. */
export interface RestlessLine {
  /** By how much of themselves the quieter channels jump. */
  readonly jump: number;
  /** Share of the places at which they do. */
  readonly along: number;
}

/** Ground and noise of an ordinary walk: a few hundredths from reading to reading. */
const RESTLESS = 0.15;
/** Along less of the line it is one object or some. */
const SHARE = 0.5;
/** Readings that are looked at together. */
const WINDOW = 15;
const FEWEST = 30;

/**
 * Whether readings jump along most of a line as they do beside metal from end to end, or where a
 * coil or a cable is loose. Noise that is estimated from the readings swallows it: the fit is good
 * then, and nothing is known. Readings that were set aside count; in-phase, whose level says
 * little, does not.
 *
 * `campaign`: readings in the order of the walk; NaN is missing. Null where they are quiet or few.
 * Source: common practice.
 */
export function restlessLine({ passes }: Campaign): RestlessLine | null {
  const channels = passes.flatMap((pass) => windowsOf(pass));
  const typical = channels.map((jumps) => median(jumps));
  const jump = quantile(typical, 0.25);
  if (!(jump > RESTLESS)) return null;
  const quiet = channels.filter((jumps) => median(jumps) <= 1.5 * jump);
  const all = quiet.flat();
  const along = all.filter((one) => one > RESTLESS).length / all.length;
  return along > SHARE ? { jump, along } : null;
}

/** For each channel, window after window, how far readings jump over how large they are. */
function windowsOf({ instrument, values, count }: Pass): readonly (readonly number[])[] {
  if (count < FEWEST) return [];
  return instrument.channels.flatMap(({ kind }, c) => {
    if (kind === "inphase") return [];
    const column = itemAt(values, c).filter((value) => !Number.isNaN(value));
    const starts = Array.from({ length: Math.floor(column.length / WINDOW) }, (_, i) => i * WINDOW);
    const jumps = starts.map((start) => jumpOf(column.subarray(start, start + WINDOW)));
    return jumps.length === 0 ? [] : [jumps];
  });
}

/**
 * Second differences leave out what rises steadily; of white noise they have six times its
 * variance.
 */
function jumpOf(part: Float64Array): number {
  const bends = part
    .subarray(2)
    .map((value, i) => (value - 2 * itemAt(part, i + 1) + itemAt(part, i)) / Math.sqrt(6));
  return madScale(bends) / median(part.map(Math.abs));
}

/** What that looks like, without a full stop. */
export function restlessText({ jump, along }: RestlessLine): string {
  const size = jump >= 1 ? "more than themselves" : `${Math.round(100 * jump)} % of themselves`;
  const where =
    along > 0.9 ? "nearly everywhere" : `along ${Math.round(100 * along)} % of the line`;
  return `readings jump by ${size} from one to the next ${where}, as beside metal along the whole \
line (sheet piling, a rail, a fence, mesh, cables) or with a loose coil or cable`;
}
