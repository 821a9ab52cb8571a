import { itemAt } from "../../numerics/arrays.js";
import type { StationForward } from "../invert/station/invert-station.js";
import type { LayerParts } from "./layer-parts.js";

/**
 * The response of layers on a bank: that of endless layers × Σ σ_j S_bank,j / Σ σ_j S_level,j, each
 * layer's part as at low induction numbers, and its derivatives by ln σ.
 */
export function onBank(level: StationForward, parts: LayerParts): StationForward {
  const { layers, data } = level;
  const sigma = new Float64Array(layers);
  return {
    layers,
    data,
    evaluate(lnConductivity, response, jacobian) {
      level.evaluate(lnConductivity, response, jacobian);
      for (let j = 0; j < layers; j++) sigma[j] = Math.exp(itemAt(lnConductivity, j));
      for (let d = 0, from = 0; d < data; d++, from += layers) {
        const { bank, flat } = sums(sigma, parts, from);
        const factor = bank / flat;
        const ppm = itemAt(response, d);
        response[d] = factor * ppm;
        for (let j = 0; j < layers; j++) {
          const turned = itemAt(parts.bank, from + j) - factor * itemAt(parts.level, from + j);
          const byLog = factor * itemAt(jacobian, from + j);
          jacobian[from + j] = byLog + (ppm * itemAt(sigma, j) * turned) / flat;
        }
      }
    },
  };
}

/** Σ σ part of one channel, whose parts begin at `from`. */
function sums(sigma: Float64Array, parts: LayerParts, from: number) {
  let [bank, flat] = [0, 0];
  for (const [j, value] of sigma.entries()) {
    bank += value * itemAt(parts.bank, from + j);
    flat += value * itemAt(parts.level, from + j);
  }
  return { bank, flat };
}
