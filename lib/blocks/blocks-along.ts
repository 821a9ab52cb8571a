import type { DepthSlices } from "../depth/depth-slices.js";
import { itemAt } from "../numerics/arrays.js";
import type { Blocks } from "./blocks.js";
import { blocksPath } from "./blocks-path.js";
import { boundariesOf } from "./boundaries.js";
import { cutIntoBlocks } from "./cut/cut-into-blocks.js";
import { describeBlocks, presentStations } from "./describe-blocks.js";
import type { SegmentBlocksOptions } from "./options.js";
import { shortBodies } from "./short-bodies.js";
import { stretchesOf } from "./texture/stretches.js";

/** The blocks of a line; none where no reliable slice has an estimate. */
export function blocksAlong(given: DepthSlices, used: SegmentBlocksOptions): Blocks {
  const reliable = given.slices.flatMap((slice, k) => (slice.reliable ? [k] : []));
  const values = reliable.map((k) => itemAt(given.log10Resistivity, k));
  const sd = reliable.map((k) => itemAt(given.sd, k));
  const present = presentStations(values);
  const head = { campaign: given.campaign, centreline: given.centreline };
  if (!present.includes(true)) return { ...head, blocks: [], objective: 0, penalty: 0 };
  const minLength = Math.max(1, Math.ceil(used.minLength_m / given.spacing_m - 1e-9));
  const { penalty, change, noise, classDistance } = used;
  const { chainage_m, spacing_m, positionSd_m } = given;
  const options = { penalty, minLength, spacing_m, change, noise };
  const cut = cutIntoBlocks({ values, sd }, options);
  const { breakProbability, numberProbability, ranges } = cut.posterior;
  const stations = { chainage_m, spacing_m, present, breakProbability, positionSd_m };
  const boundaries = boundariesOf(ranges, stations);
  const { stretches, wander } =
    cut.textured === undefined ? { stretches: [], wander: 0 } : stretchesOf(cut.textured);
  const breaks = boundaries.map(({ index }) => index);
  const bodies = shortBodies(given, { breaks, minLength_m: used.minLength_m });
  return {
    ...head,
    ...(bodies.length > 0 ? { shortBodies: bodies } : {}),
    ...(wander > 0 ? { wandersBy: 10 ** wander } : {}),
    blocks: describeBlocks(given, boundaries, { noise: cut.noise, classDistance, stretches }),
    objective: cut.objective,
    penalty: cut.penalty,
    posterior: {
      chainage_m,
      probability: breakProbability.slice(0, chainage_m.length),
      numberProbability,
    },
    path: blocksPath(cut, { minLength, penalty, stations }),
  };
}
