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
  /** d/d ln ρ, n readings × m cells; null where it was not asked for. */
  readonly jacobian: Float64Array | null;
}

/** Apparent resistivities, and their Jacobian, from potentials between electrodes. */
export function predictedOf(
  { spreads, factor_m }: Pick<SectionData, "spreads" | "factor_m">,
  { volt_per_A, perCell }: ElectrodePotentials,
): Predicted {
  const pairs = volt_per_A.length;
  const cells = perCell === null ? 0 : perCell.length / pairs;
  const logApparent = new Float64Array(spreads.length);
  const jacobian = perCell && new Float64Array(spreads.length * cells);
  spreads.forEach((spread, n) => {
    const terms = termsOf(spread);
    let volt = 0;
    for (const [pair, sign] of terms) volt += sign * itemAt(volt_per_A, pair);
    logApparent[n] = Math.log(factor_m[n]! * volt);
    if (perCell === null || jacobian === null) return;
    for (let c = 0; c < cells; c++) {
      let sum = 0;
      for (const [pair, sign] of terms) sum += sign * perCell[c * pairs + pair]!;
      jacobian[n * cells + c] = sum / volt;
    }
  });
  return { logApparent, jacobian };
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
