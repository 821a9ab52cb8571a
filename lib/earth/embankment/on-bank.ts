import { itemAt } from "../../numerics/arrays.js";
import type { SoundingChannel } from "../channel-sensitivities.js";
import type { StationForward } from "../station-forward.js";
import type { LayerParts } from "./layer-parts.js";

/**
 * The response of layers on a bank, R_b, from that of endless layers, R, and each layer's parts b_j
 * on the bank and l_j on level ground: R_b = R F with F = Σ σ_j b_j / Σ σ_j l_j for in-phase; for
 * quadrature the mean of that and of R + Σ (b_j / l_j − 1) ∂R/∂ln σ_j. Both are exact at low
 * induction numbers. At higher ones what lies deep adds less to R than its part, and more than its
 * derivative: the mean holds within 0.02 R where each alone is off by up to 0.1 (full induction in
 * the cross-section, `tests/abroad/earth/full-induction.py`).
 */
export function onBank(
  level: StationForward,
  parts: LayerParts,
  channels: readonly Pick<SoundingChannel, "kind">[],
): StationForward {
  const { layers, data } = level;
  const sigma = new Float64Array(layers);
  return {
    layers,
    data,
    evaluate(lnConductivity, response, jacobian) {
      level.evaluate(lnConductivity, response, jacobian);
      for (let j = 0; j < layers; j++) sigma[j] = Math.exp(itemAt(lnConductivity, j));
      for (const [d, { kind }] of channels.entries()) {
        const ground = { sigma, from: d * layers, byShare: shareOf(kind) };
        response[d] = liftOnto(parts, ground, { ppm: itemAt(response, d), jacobian });
      }
    },
  };
}

export interface LiftedGround {
  readonly sigma: Float64Array;
  /** Where the channel's layers begin. */
  readonly from: number;
  /** Share of R F in the response. */
  readonly byShare: number;
}

/** An inner loop: one channel's response on the bank; its derivatives are written over those on level ground. */
export function liftOnto(
  parts: LayerParts,
  { sigma, from, byShare }: LiftedGround,
  { ppm, jacobian }: { readonly ppm: number; readonly jacobian: Float64Array },
): number {
  let bank = 0;
  let flat = 0;
  for (let j = 0; j < sigma.length; j++) {
    bank += sigma[j]! * parts.bank[from + j]!;
    flat += sigma[j]! * parts.level[from + j]!;
  }
  const factor = bank / flat;
  let added = 0;
  for (let j = 0; j < sigma.length; j++) {
    const byLog = jacobian[from + j]!;
    const b = parts.bank[from + j]!;
    const l = parts.level[from + j]!;
    // A part too thin for a number is as on level ground.
    const ratio = l > 0 ? b / l : 1;
    const turned = factor * byLog + (ppm * sigma[j]! * (b - factor * l)) / flat;
    added += (ratio - 1) * byLog;
    jacobian[from + j] = byShare * turned + (1 - byShare) * ratio * byLog;
  }
  return byShare * factor * ppm + (1 - byShare) * (ppm + added);
}

/** Share of R F in a channel's response. */
export const shareOf = (kind: SoundingChannel["kind"]) => (kind === "inphase" ? 1 : 0.5);
