import { itemAt } from "../../numerics/arrays.js";
import type { StationForward } from "../invert/station/invert-station.js";

/**
 * The response of layers on a bank: R + Σ (r_j − 1) ∂R/∂ln σ_j with the exact response R of endless
 * layers, its derivatives, and each layer's ratio r_j of the parts on the bank and on level ground,
 * c × m row by channel. At low induction numbers this is Σ σ_j S_bank,j. Its derivatives are taken
 * as r_j ∂R/∂ln σ_j.
 */
export function onBank(level: StationForward, ratio: Float64Array): StationForward {
  const { layers, data } = level;
  return {
    layers,
    data,
    evaluate(lnConductivity, response, jacobian) {
      level.evaluate(lnConductivity, response, jacobian);
      for (let d = 0, at = 0; d < data; d++) {
        for (let j = 0; j < layers; j++, at++) {
          const [part, factor] = [itemAt(jacobian, at), itemAt(ratio, at)];
          response[d]! += (factor - 1) * part;
          jacobian[at] = factor * part;
        }
      }
    },
  };
}
