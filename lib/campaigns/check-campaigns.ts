import { depthSlicesFaults } from "../depth/check-depth-slices.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import { type Fault, quoted } from "../step/step-error.js";

/** Every fault of the campaigns of a step that needs at least `least` of them. */
export function campaignsFaults(given: readonly DepthSlices[], least: number): Fault[] {
  const [first] = given;
  if (first === undefined || given.length < least) {
    const expected = `at least ${least} campaigns`;
    return [{ code: "length", path: "slices", expected, received: String(given.length) }];
  }
  return given.flatMap((one, c) => [
    ...depthSlicesFaults(one, `slices[${c}]`),
    ...spacingFault(one, `slices[${c}]`, { spacing_m: first.spacing_m, which: "first" }),
    ...timeFault(one, c),
  ]);
}

/** The fault of a campaign that can share no stations with another for its spacing. */
export function spacingFault(
  given: DepthSlices,
  path: string,
  other: { readonly spacing_m: number; readonly which: "earlier" | "first" },
): Fault[] {
  if (Math.abs(other.spacing_m - given.spacing_m) <= 1e-9) return [];
  const spacing = `the ${other.which} campaign's spacing (${other.spacing_m} m)`;
  const expected = `${spacing}, so that stations are shared`;
  return [
    { code: "spacing", path: `${path}.spacing_m`, expected, received: quoted(given.spacing_m) },
  ];
}

function timeFault({ time_s }: DepthSlices, c: number): Fault[] {
  if (!Number.isNaN(time_s)) return [];
  const expected = "the campaign's mean time, s since 1970";
  return [{ code: "time", path: `slices[${c}].time_s`, expected, received: "NaN" }];
}
