/** Most layers of a member. */
export const MOST_LAYERS = 12;
/** Most blocks of a member, and how far each moves as a whole, ln units. */
export const MOST_BLOCKS = 4;
export const BLOCK_SD = 0.2;
/** How far a member's depths stretch together, ln units. */
export const STRETCH_SD = 0.15;
/** Most directions that a member's ground moves in. */
export const MOST_GROUND = MOST_BLOCKS + MOST_LAYERS + 1;

/**
 * A prior as a weighted set of layered earths, each the centre of a Gaussian on the ln conductivity
 * of its own layers: a mixture that holds sharp contrasts, thin layers and ground without layers.
 */
export interface EarthEnsemble {
  /** K members. */
  readonly count: number;
  /** K numbers of layers, 1 to `MOST_LAYERS`. */
  readonly layers: Uint8Array;
  /** K × MOST_LAYERS, m; of the last layer of a member and beyond, 0. */
  readonly thickness_m: Float64Array;
  /** K × MOST_LAYERS, ln(S/m). */
  readonly lnConductivity: Float64Array;
  /** K × MOST_LAYERS numbers of the blocks that layers belong to, from 0. */
  readonly block: Uint8Array;
  /** K numbers of blocks. */
  readonly blocks: Uint8Array;
  /** K standard deviations of each layer by itself, ln units; 0 where blocks move as a whole. */
  readonly sd: Float64Array;
  /** K classes that members were drawn from. */
  readonly kind: Uint8Array;
  /** K places in the rows of their kinds. */
  readonly number: Uint32Array;
  /** K ln weights before any reading, of a member within its kind. */
  readonly logWeight: Float64Array;
}

/** Layers of one earth, surface first. */
export interface LayeredEarth {
  readonly lnConductivity: readonly number[];
  /** One fewer than conductivities, m. */
  readonly thickness_m: readonly number[];
  /** The block of each layer, from 0. */
  readonly block: readonly number[];
  readonly kind: number;
  /** Its place in the row of its kind, from 0. */
  readonly number: number;
  /** Standard deviation of each layer by itself, ln units. */
  readonly sd: number;
}

/** An ensemble of earths, `logWeight` by kind. */
export function ensembleOf(
  earths: readonly LayeredEarth[],
  logWeight: Float64Array,
): EarthEnsemble {
  const count = earths.length;
  const thickness_m = new Float64Array(count * MOST_LAYERS);
  const lnConductivity = new Float64Array(count * MOST_LAYERS);
  const block = new Uint8Array(count * MOST_LAYERS);
  for (const [k, earth] of earths.entries()) {
    thickness_m.set(earth.thickness_m, k * MOST_LAYERS);
    lnConductivity.set(earth.lnConductivity, k * MOST_LAYERS);
    block.set(earth.block, k * MOST_LAYERS);
  }
  return {
    count,
    layers: Uint8Array.from(earths, (earth) => earth.lnConductivity.length),
    thickness_m,
    lnConductivity,
    block,
    blocks: Uint8Array.from(earths, (earth) => 1 + Math.max(...earth.block)),
    sd: Float64Array.from(earths, (earth) => earth.sd),
    kind: Uint8Array.from(earths, (earth) => earth.kind),
    number: Uint32Array.from(earths, (earth) => earth.number),
    logWeight: Float64Array.from(earths, (earth) => logWeight[earth.kind]!),
  };
}
