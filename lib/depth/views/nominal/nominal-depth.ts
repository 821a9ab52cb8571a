import type { Coils } from "../../../earth/coil-response.js";
import { cumulativeResponse } from "../../../earth/half-space.js";
import { quoted, StepError } from "../../../step/step-error.js";

/**
 * The nominal depth of a coil pair by convention, m below the surface: half of the low-induction
 * response of a half-space comes from below it, the coils at their height.
 *
 * From R((h + d)/s) = R(h/s)/2 with the cumulative response R: on the ground 0.866 s (HCP), 0.375 s
 * (VCP), 0.289 s (PRP). It does not depend on frequency. Throws StepError where separation or
 * height are not numbers above or at 0.
 *
 * Source: McNeill 1980, Technical Note 6 (cumulative response); PRP as `cumulativeResponse`.
 *
 * @example nominalDepth({ orientation: "HCP", separation_m: 2, height_m: 0 }); // 1.732
 */
export function nominalDepth(
  coils: Pick<Coils, "orientation" | "separation_m" | "height_m">,
): number {
  const { orientation, separation_m: s, height_m } = coils;
  if (!(s > 0 && s < Infinity && height_m >= 0 && height_m < Infinity)) {
    const received = quoted({ separation_m: s, height_m });
    const expected = "a separation above 0 and a height of 0 or above";
    throw new StepError("nominalDepth", [
      { code: "not-positive", path: "coils", expected, received },
    ]);
  }
  const half = cumulativeResponse(orientation, height_m / s) / 2;
  return s * depthOfShare(orientation, half) - height_m;
}

/** The depth in separations below which a share of the low-induction response comes. */
function depthOfShare(orientation: Coils["orientation"], share: number): number {
  if (orientation === "HCP") return Math.sqrt(1 / share ** 2 - 1) / 2;
  if (orientation === "VCP") return (1 - share ** 2) / (4 * share);
  return (1 - share) / (2 * Math.sqrt(1 - (1 - share) ** 2));
}
