import { chainOf } from "./chain-of.js";
import { standardLinks } from "./standard-links.js";

/** The chain that the appendix notebook and `interpret` run. */
export const standardChain = chainOf(
  standardLinks,
  new URL("./robustness/alternative-thread.js", import.meta.url),
);
