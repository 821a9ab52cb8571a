import type { CrossSection, CrossSectionProfile } from "../../lib/survey/cross-section.js";

export const SECTION: CrossSection = {
  crestWidth_m: 4,
  crestElevation_m: 6.2,
  foundationElevation_m: 2.4,
  watersideSlope: 3,
  landsideSlope: 2.5,
};
/** One cross-section all along. */
export const crossSectionOf = (section: Partial<CrossSection> = {}): CrossSectionProfile => ({
  chainage_m: [0],
  section: [{ ...SECTION, ...section }],
  waterside: "left",
});
