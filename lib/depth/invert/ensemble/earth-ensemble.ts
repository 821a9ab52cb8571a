/** Most layers of a member. */
export const MOST_LAYERS = 12;

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
  /** K standard deviations of each layer about it, ln units. */
  readonly sd: Float64Array;
  /** K classes that members were drawn from. */
  readonly kind: Uint8Array;
  /** K ln weights; exp of them adds up to 1. */
  readonly logWeight: Float64Array;
}

/** Layers of one earth, surface first. */
export interface LayeredEarth {
  readonly lnConductivity: readonly number[];
  /** One fewer than conductivities, m. */
  readonly thickness_m: readonly number[];
  readonly kind: number;
}

/** An ensemble of earths with one spread and weight each. */
export function ensembleOf(
  earths: readonly LayeredEarth[],
  { sd, logWeight }: { readonly sd: Float64Array; readonly logWeight: Float64Array },
): EarthEnsemble {
  const count = earths.length;
  const thickness_m = new Float64Array(count * MOST_LAYERS);
  const lnConductivity = new Float64Array(count * MOST_LAYERS);
  for (const [k, earth] of earths.entries()) {
    thickness_m.set(earth.thickness_m, k * MOST_LAYERS);
    lnConductivity.set(earth.lnConductivity, k * MOST_LAYERS);
  }
  const layers = Uint8Array.from(earths, (earth) => earth.lnConductivity.length);
  const kind = Uint8Array.from(earths, (earth) => earth.kind);
  return { count, layers, thickness_m, lnConductivity, sd, kind, logWeight };
}
