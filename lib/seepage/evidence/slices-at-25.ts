import { shiftsTo25 } from "../../campaigns/to-25-degrees.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import { NORMAL_90 } from "../../numerics/statistics/normal.js";

/** Draws of the resistivity of slices, log10(ohm-m) at 25 °C where soil temperatures allow. */
export interface SlicesAt25 {
  readonly chainage_m: Float64Array;
  /** The slices that count: those that the readings bound; how well, the draws say. */
  readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
  /** [draw][slice] of n values; NaN without an estimate. */
  readonly draws: readonly (readonly Float64Array[])[];
  /** [slice] of n posterior means. */
  readonly mean: readonly Float64Array[];
  /** [slice] of n shares of a slice's own change that its estimate follows; 1 where not known. */
  readonly averaging: readonly Float64Array[];
  /** False where the soil's temperature was not known on that day. */
  readonly at25: boolean;
  /** False where the draws were made from the slices' intervals, each slice by itself. */
  readonly joint: boolean;
}

/** Draws that stand for slices which hand on none. */
const SUBSTITUTES = 64;

export function slicesAt25(given: DepthSlices, seed: number): SlicesAt25 {
  const shifts = shiftsTo25(given, given.slices);
  const counted = given.slices.flatMap(({ reliable, bounded = "neither" }, k) =>
    reliable || bounded !== "neither" ? [k] : [],
  );
  const by = (k: number) => (shifts === null ? 0 : itemAt(shifts, k));
  const shifted = (rows: readonly Float64Array[]) =>
    counted.map((k) => {
      const [row, shift] = [itemAt(rows, k).slice(), by(k)];
      for (let i = 0; i < row.length; i++) row[i]! += shift;
      return row;
    });
  const draws = given.draws ?? independentDraws(given, seed);
  return {
    chainage_m: given.chainage_m,
    slices: counted.map((k) => itemAt(given.slices, k)),
    draws: draws.map(shifted),
    mean: shifted(given.log10Resistivity),
    averaging: counted.map((k) => ownAveraging(given, k)),
    at25: shifts !== null,
    joint: given.draws !== undefined,
  };
}

function ownAveraging({ averaging, chainage_m }: DepthSlices, k: number): Float64Array {
  if (averaging === undefined) return new Float64Array(chainage_m.length).fill(1);
  const own = itemAt(itemAt(averaging, k), k);
  return own.map((share) => Math.min(1, Math.max(0, share)));
}

/** Two half-normals about each slice's estimate, as wide as the sides of its 80 % interval. */
function independentDraws(given: DepthSlices, seed: number): readonly (readonly Float64Array[])[] {
  const random = seededRandom(seed);
  const { log10Resistivity, sd, p10, p90 } = given;
  const side = (k: number, i: number, up: boolean) => {
    const [middle, plain] = [valueAt(itemAt(log10Resistivity, k), i), valueAt(itemAt(sd, k), i)];
    const end = up ? p90 : p10;
    return end === undefined ? plain : Math.abs(valueAt(itemAt(end, k), i) - middle) / NORMAL_90;
  };
  return Array.from({ length: SUBSTITUTES }, () =>
    log10Resistivity.map((row, k) =>
      row.map((value, i) => {
        const z = random.normal();
        return value + z * side(k, i, z > 0);
      }),
    ),
  );
}
