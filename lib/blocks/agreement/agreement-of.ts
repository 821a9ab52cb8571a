import type { ClassedStretch, SegmentationAgreement } from "./agreement.js";
import { boundaryAgreement } from "./boundary-agreement.js";
import { classAgreement } from "./class-agreement.js";
import type { CompareSegmentationsOptions } from "./options.js";

/** Agreement of two cuts in boundaries and classes. */
export function agreementOf(
  [one, other]: readonly [readonly ClassedStretch[], readonly ClassedStretch[]],
  options: CompareSegmentationsOptions,
): SegmentationAgreement {
  return {
    ...boundaryAgreement(one, other, options.within_m),
    ...classAgreement(one, other, options),
  };
}
