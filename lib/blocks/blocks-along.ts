import type { DepthSlices } from "../depth/depth-slices.js";
import type { Blocks } from "./blocks.js";
import { blocksPath } from "./blocks-path.js";
import { boundariesOf } from "./boundaries.js";
import { cutIntoBlocks } from "./cut/cut-into-blocks.js";
import { describeBlocks } from "./describe-blocks.js";
import type { SegmentBlocksOptions } from "./options.js";

/** The blocks of a line; none where no reliable slice has an estimate. */
export function blocksAlong(given: DepthSlices, used: SegmentBlocksOptions): Blocks {
  const reliable = given.slices.map((slice, k) => (slice.reliable ? k : -1)).filter((k) => k >= 0);
  const columns = reliable.map((k) => given.log10Resistivity[k]!);
  const present = presentStations(columns, given.chainage_m.length);
  const head = { campaign: given.campaign, centreline: given.centreline };
  if (!present.includes(true)) return { ...head, blocks: [], objective: 0, penalty: 0 };
  const minLength = Math.max(1, Math.ceil(used.minLength_m / given.spacing_m - 1e-9));
  const sd = reliable.map((k) => given.sd[k]!);
  const { penalty, change, noise, classDistance } = used;
  const cut = cutIntoBlocks({ values: columns, sd }, { penalty, minLength, change, noise });
  const { chainage_m, spacing_m, positionSd_m } = given;
  const { breakProbability, numberProbability, ranges } = cut.posterior;
  const stations = { chainage_m, spacing_m, present, breakProbability, positionSd_m };
  const boundaries = boundariesOf(ranges, stations);
  return {
    ...head,
    blocks: describeBlocks(given, boundaries, { noise: cut.noise, classDistance }),
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

function presentStations(columns: readonly Float64Array[], n: number): boolean[] {
  return Array.from({ length: n }, (_, i) => columns.some((column) => !Number.isNaN(column[i]!)));
}
