import type { Link } from "./link.js";
import { acrossLink } from "./links/across.js";
import { blocksLink, referenceLink } from "./links/blocks.js";
import { boreholesLink } from "./links/boreholes.js";
import { compareLink, headLink, trendLink } from "./links/campaigns.js";
import { depthLink } from "./links/depth.js";
import { driftLink } from "./links/drift.js";
import { maskLink } from "./links/interference.js";
import { placeLink } from "./links/place.js";
import { sectionsLink } from "./links/sections.js";
import { seepageLink } from "./links/seepage.js";

/** The steps of an interpretation in the order of the work. A step is added to the tool here. */
export const standardLinks: readonly Link[] = Object.freeze([
  placeLink,
  driftLink,
  maskLink,
  acrossLink,
  depthLink,
  referenceLink,
  blocksLink,
  compareLink,
  trendLink,
  headLink,
  sectionsLink,
  seepageLink,
  boreholesLink,
]);
