import {
  BLOCK_SD,
  type EarthEnsemble,
  MOST_GROUND,
  MOST_LAYERS,
  STRETCH_SD,
} from "../prior/earth-ensemble.js";
import type { MemberResponses } from "./member-responses.js";

/**
 * What may move a member's responses, each direction of unit variance: its blocks and layers
 * by their spread, all depths together, and each walk by its coils' height.
 */
export interface Directions {
  readonly ensemble: EarthEnsemble;
  readonly responses: MemberResponses;
  /** c, and the number of walks. */
  readonly channels: number;
  readonly walks: number;
  /** (blocks + layers of their own + one stretch + walks) × c changes of the responses; overwritten by the next call. */
  columns(k: number): Float64Array;
}

export interface WalkErrors {
  /** c numbers of the walk that each channel belongs to. */
  readonly walk: Int32Array;
  readonly walks: number;
  /** Standard deviation of the coils' height at a place, m. */
  readonly heightSd_m: number;
}

export function directionsOf(
  ensemble: EarthEnsemble,
  responses: MemberResponses,
  { walk, walks, heightSd_m }: WalkErrors,
): Directions {
  const c = responses.channels;
  const rows = new Float64Array((MOST_GROUND + walks) * c);
  const columns = (k: number): Float64Array => {
    const layers = ensemble.layers[k]!;
    const blocks = ensemble.blocks[k]!;
    const sd = ensemble.sd[k]!;
    const own = sd > 0 ? layers : 0;
    const from = k * MOST_LAYERS * c;
    rows.fill(0, 0, blocks * c);
    for (let j = 0; j < layers; j++) {
      const block = ensemble.block[k * MOST_LAYERS + j]! * c;
      for (let d = 0; d < c; d++) {
        const byLog = responses.byLog[from + j * c + d]!;
        rows[block + d]! += BLOCK_SD * byLog;
        if (own > 0) rows[(blocks + j) * c + d] = sd * byLog;
      }
    }
    const at = blocks + own + 1;
    for (let d = 0; d < c; d++) {
      rows[(at - 1) * c + d] = STRETCH_SD * responses.byStretch[k * c + d]!;
    }
    for (let w = 0; w < walks; w++) {
      for (let d = 0; d < c; d++) {
        const moved = walk[d] === w ? heightSd_m * responses.byHeight[k * c + d]! : 0;
        rows[(at + w) * c + d] = moved;
      }
    }
    return rows.subarray(0, (at + walks) * c);
  };
  return { ensemble, responses, channels: c, walks, columns };
}
