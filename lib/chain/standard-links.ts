import { lineLinks } from "./line-links.js";
import type { Link } from "./link.js";
import { boreholesLink } from "./links/boreholes.js";
import { otherLinesLink } from "./links/other-lines.js";
import { placeLink } from "./links/place.js";
import { sectionsLink } from "./links/sections.js";
import { seepageLink } from "./links/seepage.js";
import { soilsLink } from "./links/soils.js";

/**
 * The steps of an interpretation in the order of the work. A step is added to the tool here, or to
 * `lineLinks` where each walked line goes through it.
 */
export const standardLinks: readonly Link[] = Object.freeze([
  placeLink,
  ...lineLinks,
  otherLinesLink,
  sectionsLink,
  soilsLink,
  seepageLink,
  boreholesLink,
]);
