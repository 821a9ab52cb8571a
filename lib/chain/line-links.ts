import type { Link } from "./link.js";
import { acrossLink } from "./links/across.js";
import { blocksLink, referenceLink } from "./links/blocks.js";
import { compareLink, headLink, trendLink } from "./links/campaigns.js";
import { depthLink } from "./links/depth.js";
import { driftLink } from "./links/drift.js";
import { maskLink } from "./links/interference.js";

/** The steps that every walked line goes through by itself, in the order of the work. */
export const lineLinks: readonly Link[] = Object.freeze([
  driftLink,
  maskLink,
  acrossLink,
  depthLink,
  referenceLink,
  blocksLink,
  compareLink,
  trendLink,
  headLink,
]);
