import { blanketSeepage } from "../../earth/blanket.js";
import { valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import type { Base } from "./judged-stretch.js";
import type { StretchInputs } from "./stretch-inputs.js";

/**
 * For each stretch the share of the differences between stretches that the data explain there: 1 −
 * v/V, where V is the variance of the logarithm of the gradient along the bank (cross-sections as
 * they are, thicknesses as before anything was seen of them) and v what is left open of it here, to
 * first order. What all stretches have in common counts in neither. Its root is the correlation
 * with the truth to be expected. NaN where a stretch has no gradient.
 */
export function reliabilities(inputs: StretchInputs): Float64Array {
  const { base, blanket, aquifer } = inputs;
  const middle = { blanket: presentMean(blanket.mean), aquifer: presentMean(aquifer.mean) };
  const lnGradient = (one: Base, { blanket: more = 0, aquifer: thicker = 0 } = {}) =>
    lnGradientAt(one, inputs, {
      blanket: middle.blanket + more,
      aquifer: middle.aquifer + thicker,
    });
  const logs = Float64Array.from(base, (one) => (one === null ? Number.NaN : lnGradient(one)));
  const mean = presentMean(logs);
  const geometry = presentMean(logs.map((value) => (value - mean) ** 2));
  return Float64Array.from(base, (one, i) => {
    if (one === null) return Number.NaN;
    const at = valueAt(logs, i);
    const byBlanket = (lnGradient(one, { blanket: STEP }) - at) / STEP;
    const byAquifer = (lnGradient(one, { aquifer: STEP }) - at) / STEP;
    const variance = (ofBlanket: number, ofAquifer: number) =>
      byBlanket ** 2 * ofBlanket + byAquifer ** 2 * ofAquifer;
    const before = geometry + variance(blanket.ownBefore, aquifer.ownBefore);
    const left = variance(valueAt(blanket.ownVariance, i), valueAt(aquifer.ownVariance, i));
    return before > 0 ? 1 - left / before : 0;
  });
}

const STEP = 0.05;

/** At the middle of everything that is not known, with these logarithms of the thicknesses. */
function lnGradientAt(
  base: Base,
  { common }: StretchInputs,
  ln: { readonly blanket: number; readonly aquifer: number },
): number {
  const { exitGradient } = blanketSeepage({
    ...base,
    blanketThickness_m: Math.exp(ln.blanket),
    aquiferThickness_m: Math.exp(ln.aquifer),
    blanketConductivity_m_per_s: common["blanket conductivity"].at(0.5),
    aquiferConductivity_m_per_s: common["aquifer conductivity"].at(0.5),
    watersideLength_m: common["waterside length"].at(0.5),
    landsideLength_m: common["landside length"].at(0.5),
    landside: "infinite",
    saturatedUnitWeight_kN_per_m3: common["unit weight"].at(0.5),
  });
  return Math.log(exitGradient);
}
