import { rangeFault } from "../../depth/check-depth-slices.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";
import type { WaterLevel } from "../../survey/survey.js";
import type { ChainageRange } from "../pair/unknown-stretches.js";
import { campaignsFaults, levelFault } from "../trend/options.js";

export interface HeadOptions {
  /**
   * Where the level was read: "river" or a piezometer's name. Default "river", or the first
   * piezometer of the levels where none is of the river.
   */
  readonly point: string;
  /** Stretches to ask, such as blocks or changes; or "even": the line in equal parts. */
  readonly stretches: "even" | readonly ChainageRange[];
  /** Length of the equal parts, m, over 0. Default 50. */
  readonly evenLength_m: number;
  /**
   * Lags that are tried, days, each at least 0, from six campaigns on; with fewer only the first.
   * Default 0, 3, 7, 14, 30.
   */
  readonly lags_days: readonly number[];
  /** "majority" takes off each campaign's level, see `trendOverCampaigns`. Default "majority". */
  readonly level: "majority" | "none";
  /** As in `trendOverCampaigns`, m. Default 4. */
  readonly alignWithin_m: number;
  /** Expected share of false discoveries over all stretches and slices, > 0 and < 1. Default 0.05. */
  readonly q: number;
}

export const headDefaults: Readonly<HeadOptions> = Object.freeze({
  point: "river",
  stretches: "even",
  evenLength_m: 50,
  lags_days: Object.freeze([0, 3, 7, 14, 30]),
  level: "majority",
  alignWithin_m: 4,
  q: 0.05,
});

/** Throws a StepError with every fault of the campaigns, the levels and the options. */
export function refuseBadHead(
  given: readonly DepthSlices[],
  levels: readonly WaterLevel[],
  used: HeadOptions,
): void {
  const faults: Fault[] = [
    ...campaignsFaults(given, 2),
    ...pointFault(levels, used.point),
    ...stretchFaults(used.stretches),
    ...rangeFault("evenLength_m", used.evenLength_m, { above: 0 }),
    ...lagFaults(used.lags_days),
    ...levelFault(used.level),
    ...rangeFault("alignWithin_m", used.alignWithin_m, { from: 0, upTo: 20 }),
    ...rangeFault("q", used.q, { above: 0, upTo: 0.999 }),
    ...unknownOptions(used, headDefaults),
  ];
  if (faults.length > 0) throw new StepError("responseToHead", faults);
}

function pointFault(levels: readonly WaterLevel[], point: string): Fault[] {
  const points = [...new Set(levels.map((one) => one.point))];
  if (points.includes(point) || points.length === 0) return [];
  const expected = `one of ${points.map(quoted).join(", ")}`;
  return [{ code: "option-value", path: "options.point", expected, received: quoted(point) }];
}

function stretchFaults(stretches: HeadOptions["stretches"]): Fault[] {
  if (stretches === "even") return [];
  const bad = stretches.findIndex(({ from_m, to_m }) => !(to_m > from_m));
  if (bad < 0 && stretches.length > 0) return [];
  const expected = '"even" or stretches with from_m below to_m';
  const received =
    bad < 0 ? "an empty list" : `${stretches[bad]!.from_m} to ${stretches[bad]!.to_m}`;
  return [{ code: "option-value", path: "options.stretches", expected, received }];
}

function lagFaults(lags: readonly number[]): Fault[] {
  if (lags.length > 0 && lags.every((lag) => lag >= 0 && lag < Number.POSITIVE_INFINITY)) return [];
  const expected = "one or more numbers of days, each at least 0";
  return [{ code: "option-value", path: "options.lags_days", expected, received: quoted(lags) }];
}
