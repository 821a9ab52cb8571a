import { depthSlicesFaults, rangeFault } from "../../depth/check-depth-slices.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";

export interface CompareOptions {
  /**
   * "majority" takes off each slice's median difference over the stations that did not change: a
   * shift of the whole line is then not a change, be it the season or the instrument. "none" takes
   * the difference as it is. Default "majority".
   */
  readonly level: "majority" | "none";
  /**
   * Length of the moving mean along the line, m, ≥ 0; 0 for none. Means over twice that are tested
   * beside it, so that a weak change of a long stretch is found as well. Default 20.
   */
  readonly smoothing_m: number;
  /**
   * The later campaign is brought to the earlier one's chainage by shifts up to this, m, ≥ 0; 0 for
   * none. Where the ground has no texture to tell a shift, none is made. Default 4.
   */
  readonly alignWithin_m: number;
  /**
   * Standard deviation of the mismatch of positions that alignment leaves or cannot follow, m, ≥ 0:
   * where the ground changes along the line, a mismatch looks like a change in time. The alignment's
   * own uncertainty comes on top. Default 0.5.
   */
  readonly mismatch_m: number;
  /** Expected share of false discoveries over all stations and slices, > 0 and < 1. Default 0.05. */
  readonly q: number;
  /** Stretches of one direction that are nearer than this are one, m, ≥ 0. Default 10. */
  readonly joinWithin_m: number;
  /** Shorter stretches are not reported, m, ≥ 0. Default 12. */
  readonly minLength_m: number;
}

export const compareDefaults: Readonly<CompareOptions> = Object.freeze({
  level: "majority",
  smoothing_m: 20,
  alignWithin_m: 4,
  mismatch_m: 0.5,
  q: 0.05,
  joinWithin_m: 10,
  minLength_m: 12,
});

/** Throws a StepError with every fault of the two campaigns and the options. */
export function refuseBadComparison(
  earlier: DepthSlices,
  later: DepthSlices,
  used: CompareOptions,
): void {
  const faults = [
    ...depthSlicesFaults(earlier, "earlier"),
    ...depthSlicesFaults(later, "later"),
    ...pairFaults(earlier, later),
    ...optionFaults(used),
  ];
  if (faults.length > 0) throw new StepError("compareCampaigns", faults);
}

function pairFaults(earlier: DepthSlices, later: DepthSlices): Fault[] {
  const faults: Fault[] = [];
  if (!(Math.abs(earlier.spacing_m - later.spacing_m) <= 1e-9)) {
    const expected = `the earlier campaign's spacing (${earlier.spacing_m} m), so that stations are shared`;
    const received = quoted(later.spacing_m);
    faults.push({ code: "spacing", path: "later.spacing_m", expected, received });
  }
  if (later.time_s < earlier.time_s) {
    const expected = `not before the earlier campaign (${earlier.campaign})`;
    const hint = "the two campaigns look swapped";
    const received = later.campaign;
    faults.push({ code: "order", path: "later", expected, received, hint });
  }
  return faults;
}

function optionFaults(used: CompareOptions): Fault[] {
  const known = used.level === "majority" || used.level === "none";
  const expected = '"majority" or "none"';
  const received = quoted(used.level);
  return [
    ...(known ? [] : [{ code: "option-value", path: "options.level", expected, received }]),
    ...rangeFault("smoothing_m", used.smoothing_m, { from: 0 }),
    ...rangeFault("alignWithin_m", used.alignWithin_m, { from: 0, upTo: 20 }),
    ...rangeFault("mismatch_m", used.mismatch_m, { from: 0 }),
    ...rangeFault("q", used.q, { above: 0, upTo: 0.999 }),
    ...rangeFault("joinWithin_m", used.joinWithin_m, { from: 0 }),
    ...rangeFault("minLength_m", used.minLength_m, { from: 0 }),
    ...unknownOptions(used, compareDefaults),
  ];
}
