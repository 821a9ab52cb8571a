/** Layers of ground, surface first; the last one goes on for ever. */
export interface LayeredGround {
  readonly lnConductivity: ArrayLike<number>;
  /** One fewer than conductivities at least, m. */
  readonly thickness_m: ArrayLike<number>;
  /** Number of layers, where the rows are longer; default all. */
  readonly layers?: number;
}

/** Mean ln conductivity between two depths. */
export function meanBetween(ground: LayeredGround, top_m: number, base_m: number): number {
  let sum = 0;
  eachShare(ground, top_m, base_m, (j, share) => {
    sum += share * ground.lnConductivity[j]!;
  });
  return sum;
}

/** Calls with each layer between two depths, and the share of them that it fills. */
export function eachShare(
  { lnConductivity, thickness_m, layers = lnConductivity.length }: LayeredGround,
  top_m: number,
  base_m: number,
  call: (layer: number, share: number) => void,
): void {
  let top = 0;
  for (let j = 0; j < layers && top < base_m; j++) {
    const base = j + 1 < layers ? top + thickness_m[j]! : Number.POSITIVE_INFINITY;
    const shared = Math.min(base, base_m) - Math.max(top, top_m);
    if (shared > 0) call(j, shared / (base_m - top_m));
    top = base;
  }
}

/** How far below its top the last layer of a grid is averaged, as a share of that depth. */
const BEYOND = 0.4;

interface GridTarget {
  /** m tops, the first 0. */
  readonly top_m: Float64Array;
  readonly out: Float32Array;
  /** Where in `out` the first of the m values goes. */
  readonly at: number;
}

/** Writes the means over each layer of a grid, in one pass down. */
export function writeLayerMeans(ground: LayeredGround, { top_m, out, at }: GridTarget): void {
  const { lnConductivity, thickness_m, layers = lnConductivity.length } = ground;
  const baseOf = (j: number, top: number) =>
    j + 1 < layers ? top + thickness_m[j]! : Number.POSITIVE_INFINITY;
  let j = 0;
  let base = baseOf(0, 0);
  for (let i = 0; i < top_m.length; i++) {
    const top = top_m[i]!;
    const end = top_m[i + 1] ?? (1 + BEYOND) * top;
    let z = top;
    let sum = 0;
    while (z < end) {
      while (base <= z) base = baseOf(++j, base);
      const until = Math.min(end, base);
      sum += (until - z) * lnConductivity[j]!;
      z = until;
    }
    out[at + i] = sum / (end - top);
  }
}
