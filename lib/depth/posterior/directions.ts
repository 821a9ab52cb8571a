import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import {
  BLOCK_SD,
  type EarthEnsemble,
  MOST_GROUND,
  MOST_LAYERS,
  STRETCH_SD,
} from "../prior/earth-ensemble.js";
import { type MemberResponses, writeByLog } from "./member-responses.js";

/**
 * What may move a member's responses, each direction of unit variance: its blocks and layers
 * by their spread, all depths together, and each walk by its coils' height.
 */
export interface Directions extends WalkErrors {
  readonly ensemble: EarthEnsemble;
  readonly responses: MemberResponses;
  /** c. */
  readonly channels: number;
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
  return { ensemble, responses, channels: responses.channels, walk, walks, heightSd_m };
}

/** Lengths of the columns of the kernels' memory that `ChangeRows` works in. */
export function changeRoom({ channels: c, walks }: Directions): readonly number[] {
  const wide = passes(c);
  return [(MOST_GROUND + walks) * wide, (MOST_LAYERS * c + wide) / 2 + 1, MOST_LAYERS];
}

/** The changes of one member's responses at a time, in the kernels' memory. */
export class ChangeRows {
  /** Rows of c changes, `wide` apart: of blocks, layers of their own, one stretch and walks. */
  readonly rows: Float64Array;
  readonly wide: number;
  private readonly layers: Float32Array;
  private readonly block: Uint8Array;

  constructor(
    private readonly directions: Directions,
    [rows, layers, block]: readonly [Float64Array, Float64Array, Float64Array],
  ) {
    this.rows = rows;
    this.wide = passes(directions.channels);
    this.layers = new Float32Array(layers.buffer, layers.byteOffset, 2 * layers.length);
    this.block = new Uint8Array(block.buffer, block.byteOffset, MOST_LAYERS);
  }

  /** Writes the changes of member k; gives the number of its directions. */
  write(k: number): number {
    const { rows, wide, directions } = this;
    const { ensemble, responses, channels: c, walk, walks, heightSd_m } = directions;
    const [blocks, own] = [ensemble.blocks[k]!, ensemble.sd[k]! > 0 ? ensemble.layers[k]! : 0];
    rows.fill(0, 0, blocks * wide);
    this.writeLayers(k, own > 0 ? blocks * wide : -1);
    const stretch = (blocks + own) * wide;
    for (let d = 0; d < c; d++) {
      rows[stretch + d] = STRETCH_SD * responses.byStretch[k * c + d]!;
      const moved = heightSd_m * responses.byHeight[k * c + d]!;
      for (let w = 0, at = stretch + d; w < walks; w++) {
        at += wide;
        rows[at] = walk[d] === w ? moved : 0;
      }
    }
    return blocks + own + 1 + walks;
  }

  /** `own`: where rows of layers of their own begin; −1 where there are none. */
  private writeLayers(k: number, own: number): void {
    const { rows, wide, layers, block } = this;
    const { ensemble, responses, channels: c } = this.directions;
    const [from, count] = [k * MOST_LAYERS, ensemble.layers[k]!];
    writeByLog(responses.byLog, { k, layers: count }, layers);
    for (let j = 0; j < count; j++) block[j] = ensemble.block[from + j]!;
    const start = rows.byteOffset;
    vectorKernels().run.layerDirections(
      ...[layers.byteOffset, 4 * c, count, block.byteOffset],
      ...[start, own < 0 ? 0 : start + 8 * own, 8 * wide, BLOCK_SD, ensemble.sd[k]!],
    );
  }
}
