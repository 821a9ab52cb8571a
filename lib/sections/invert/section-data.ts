import { geometricFactor } from "../../earth/spread.js";
import { itemAt } from "../../numerics/arrays.js";
import type { ElectrodePotentials } from "../model/section-model.js";
import { positionsOf, type SectionElectrode, type SectionSpread } from "../section-input.js";

/** Readings of one line as an inversion takes them. */
export interface SectionData {
  readonly spreads: readonly SectionSpread[];
  /** K, m. */
  readonly factor_m: Float64Array;
  /** ln of apparent resistivity, ohm-m. */
  readonly logApparent: Float64Array;
  /** Standard deviation of each. */
  readonly sd: Float64Array;
}

export function flatFactors(
  spreads: readonly SectionSpread[],
  electrodes: readonly SectionElectrode[],
): Float64Array {
  return Float64Array.from(spreads, (spread) => geometricFactor(positionsOf(spread, electrodes)));
}

/** What a model predicts for the readings. */
export interface Predicted {
  /** NaN where the potential difference has the wrong sign. */
  readonly logApparent: Float64Array;
  /** d/d ln ρ, m cells × n readings; null where it was not asked for. */
  readonly jacobian: Float64Array | null;
}

/** Apparent resistivities, and their Jacobian, from potentials between electrodes. */
export function predictedOf(
  { spreads, factor_m }: Pick<SectionData, "spreads" | "factor_m">,
  { volt_per_A, perCell }: ElectrodePotentials,
): Predicted {
  const pair = new Int32Array(4 * spreads.length);
  const share = new Float64Array(4 * spreads.length);
  const logApparent = new Float64Array(spreads.length);
  spreads.forEach((spread, n) => {
    const terms = termsOf(spread);
    const volt = terms.reduce((sum, [at, sign]) => sum + sign * itemAt(volt_per_A, at), 0);
    logApparent[n] = Math.log(factor_m[n]! * volt);
    terms.forEach(([at, sign], t) => {
      pair[4 * n + t] = at;
      share[4 * n + t] = sign / volt;
    });
  });
  const pairs = volt_per_A.length;
  return { logApparent, jacobian: perCell && combined(perCell, { pairs, pair, share }) };
}

/** For each cell and reading the sum of four shares of pairs. */
function combined(
  perCell: Float64Array,
  { pairs, pair, share }: PairShares,
): Float64Array<ArrayBuffer> {
  const n = pair.length / 4;
  const out = new Float64Array((perCell.length / pairs) * n);
  for (let from = 0, to = 0; from < perCell.length; from += pairs) {
    for (let t = 0; t < pair.length; t += 4, to++) {
      const one = share[t]! * perCell[from + pair[t]!]!;
      const two = share[t + 1]! * perCell[from + pair[t + 1]!]!;
      const three = share[t + 2]! * perCell[from + pair[t + 2]!]!;
      out[to] = one + two + three + share[t + 3]! * perCell[from + pair[t + 3]!]!;
    }
  }
  return out;
}

/** Of each reading four pairs of electrodes, and their shares in it; 0 where it has fewer. */
interface PairShares {
  /** All pairs. */
  readonly pairs: number;
  readonly pair: Int32Array;
  readonly share: Float64Array;
}

/** The pairs of electrodes of a spread, by their place in the lower triangle, with their signs. */
function termsOf({ a, b, m, n }: SectionSpread): (readonly [number, number])[] {
  const all = [
    [a, m, 1],
    [b, m, -1],
    [a, n, -1],
    [b, n, 1],
  ] as const;
  return all
    .filter(([source, at]) => source !== 0 && at !== 0)
    .map(([source, at, sign]) => {
      const [i, j] = [Math.max(source, at) - 1, Math.min(source, at) - 1];
      return [(i * (i - 1)) / 2 + j, sign] as const;
    });
}
