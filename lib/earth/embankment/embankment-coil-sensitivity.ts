import type { CoilGeometry } from "../coil-quadrature.js";
import { cumulativeResponse } from "../half-space.js";
import { type BankSection, bankSection, reachAt } from "./bank-section.js";
import { chargeShares, inPhaseAlong } from "./charge-field.js";
import { AXES } from "./coil-dipole.js";
import { missingGround } from "./missing-ground.js";
import type { EmbankmentShape } from "./shape.js";
import { alongStrike } from "./strike-transform.js";

/** What a coil pair's low-induction response takes from the ground, by layers. */
export interface EmbankmentCoilSensitivity {
  /**
   * Of the embankment, by layer: dR/dσ, R in units of homogeneous level ground under coils on it.
   */
  readonly bank: Float64Array;
  /** The same of level ground at the crest's height. */
  readonly flat: Float64Array;
  /** Of all the ground, whether or not the layers begin at the crest. */
  readonly bankTotal: number;
  readonly flatTotal: number;
}

/** Of the wavenumbers, in ln k. */
const STEP = 0.36;
/**
 * The largest wavenumber, and the smallest, in terms of the nearest edge and of the largest extent.
 */
const K_FAR = 8;
const K_NEAR = 0.04;
/** Coils nearer to an edge than this share of the separation are taken to be at that distance. */
const NEAREST_SHARE = 0.01;

/**
 * The sensitivities of each of many coil pairs over one cross-section, for input known to be valid.
 *
 * dR/dσ of a layer is ∫ E₁·E₂ dV over it, E the electric field of a current in either coil with the
 * charges on all surfaces: ∫ A₁·A₂ dV over level ground (McNeill's functions), less what is
 * missing beside the bank, and what the charges on the slopes add. A layer's values sum to the
 * response of homogeneous ground. Level ground has no negative part; an embankment's may be.
 */
export function embankmentCoilSensitivities(
  shape: EmbankmentShape,
  pairs: readonly CoilGeometry[],
  layerTops_m: readonly number[],
): EmbankmentCoilSensitivity[] {
  const depths = layerTops_m[0] === 0 ? layerTops_m : [0, ...layerTops_m];
  const flat = pairs.map((pair) => depths.map((depth) => flatShare(pair, depth)));
  const level = shape.height_m === 0 || pairs.length === 0;
  const bank = level ? flat : bankShares(shape, pairs, depths);
  return pairs.map((_, p) => ({
    bank: byLayer(bank[p]!, layerTops_m.length),
    flat: byLayer(flat[p]!, layerTops_m.length),
    bankTotal: bank[p]![0]!,
    flatTotal: flat[p]![0]!,
  }));
}

/** The differences of what lies below each of the last `layers` depths. */
function byLayer(below: readonly number[], layers: number): Float64Array {
  const first = below.length - layers;
  return Float64Array.from({ length: layers }, (_, j) => {
    return below[first + j]! - (below[first + j + 1] ?? 0);
  });
}

function flatShare({ orientation, separation_m, height_m }: CoilGeometry, depth: number): number {
  return cumulativeResponse(orientation, (depth + height_m) / separation_m);
}

/** The share of the response from below each depth, by pair. */
function bankShares(
  shape: EmbankmentShape,
  pairs: readonly CoilGeometry[],
  depths: readonly number[],
): number[][] {
  const section = bankSection(shape, depths, {
    height_m: Math.min(...pairs.map(({ height_m }) => height_m)),
    nearest_m: NEAREST_SHARE * Math.min(...pairs.map(({ separation_m }) => separation_m)),
  });
  const charges = chargesBelow(section, pairs);
  return pairs.map((pair, p) => {
    const missing = missingBelow(section, pair);
    return depths.map((depth, d) => {
      const extra = (charges[p]![d]! - missing[d]!) * (pair.separation_m / Math.PI);
      return flatShare(pair, depth) + extra;
    });
  });
}

/** ∫ A₁·A₂ dV of level ground that is not there, below each depth. */
function missingBelow({ sides, height_m, depths_m }: BankSection, pair: CoilGeometry): number[] {
  const breaks = [...depths_m.filter((depth) => depth < height_m), height_m];
  const below = new Array<number>(depths_m.length).fill(0);
  for (const side of sides) {
    const slices = missingGround(side, pair, breaks);
    let sum = 0;
    for (let i = slices.length - 1; i >= 0; i--) {
      sum += slices[i]!;
      below[i] = below[i]! + sum;
    }
  }
  return below;
}

/** What the charges add below each depth, by pair. */
function chargesBelow(section: BankSection, pairs: readonly CoilGeometry[]): number[][] {
  const keyOf = (pair: CoilGeometry) => `${pair.orientation} ${pair.height_m}`;
  const distinct = [...new Map(pairs.map((pair) => [keyOf(pair), pair])).values()];
  const atHeight = distinct.map((pair) => ({ axes: AXES[pair.orientation], ...pair }));
  const { low, count } = wavenumbersFor(section, pairs);
  const sharesAt = chargeShares(section, atHeight);
  const rows = Array.from({ length: count }, (_, i) => sharesAt(Math.exp(low + i * STEP)));
  return pairs.map((pair) => {
    const at = distinct.findIndex((other) => keyOf(other) === keyOf(pair));
    const wave = inPhaseAlong(AXES[pair.orientation]) ? "cosine" : "sine";
    return section.depths_m.map((_, d) => {
      const values = Float64Array.from(rows, (row) => row[at]![d]!);
      return alongStrike({ low, step: STEP, values }, pair.separation_m, wave) / 2;
    });
  });
}

function wavenumbersFor({ sides, height_m }: BankSection, pairs: readonly CoilGeometry[]) {
  const lowest = Math.min(...pairs.map((pair) => pair.height_m));
  const near = Math.min(...sides.map(({ edge_m }) => Math.hypot(edge_m, lowest)));
  const far = Math.max(
    ...pairs.flatMap((pair) => [pair.height_m, pair.separation_m]),
    ...sides.map((side) => Math.hypot(reachAt(side, height_m), height_m)),
  );
  const low = Math.log(K_NEAR / far);
  return { low, count: 2 + Math.ceil((Math.log(K_FAR / near) - low) / STEP) };
}
