import { type Fault, quoted } from "../../numerics/step-error.js";
import { checkNumber, NOT_NEGATIVE, POSITIVE } from "../check.js";

/** A trapezoid of ground on level ground of the same resistivity, and where the line runs on it. */
export interface EmbankmentShape {
  /** Above 0. */
  readonly crestWidth_m: number;
  /** Of the crest above the level ground, 0 or more; 0 is flat ground. */
  readonly height_m: number;
  /** Horizontal per 1 vertical, 0 (a wall) or more. */
  readonly watersideSlope: number;
  /** Horizontal per 1 vertical, 0 (a wall) or more. */
  readonly landsideSlope: number;
  /** Of the line from the middle of the crest, positive to the landside; not beyond its edges. */
  readonly offset_m: number;
}

/** Where a bank's cross-section is not known, one such as this is supposed (common practice). */
export const USUAL_SHAPE: EmbankmentShape = {
  crestWidth_m: 4,
  height_m: 4,
  watersideSlope: 2.5,
  landsideSlope: 2.5,
  offset_m: 0,
};

export function shapeFaults(shape: EmbankmentShape): Fault[] {
  const faults: Fault[] = [];
  checkNumber(faults, "shape.crestWidth_m", [shape?.crestWidth_m, POSITIVE]);
  checkNumber(faults, "shape.height_m", [shape?.height_m, NOT_NEGATIVE]);
  checkNumber(faults, "shape.watersideSlope", [shape?.watersideSlope, NOT_NEGATIVE]);
  checkNumber(faults, "shape.landsideSlope", [shape?.landsideSlope, NOT_NEGATIVE]);
  if (!(Math.abs(shape?.offset_m) <= shape?.crestWidth_m / 2)) {
    faults.push({
      code: "off-crest",
      path: "shape.offset_m",
      expected: "a number, not beyond half the crest's width to either side",
      received: quoted(shape?.offset_m),
    });
  }
  return faults;
}
