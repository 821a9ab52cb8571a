import { blanketSeepage } from "../../../lib/earth/blanket.js";
import type { JudgedStretch } from "../../../lib/seepage/hydraulics/judged-stretch.js";
import type { JudgedBank, WorkedBank } from "./judged-bank.js";

/** Fewer stretches have no order to speak of. */
const FEWEST = 4;

/** One rank correlation of told exit gradients with the true ones for each bank whose data tell. */
export function rankCorrelations(
  banks: readonly WorkedBank[],
  all: readonly JudgedBank[],
): readonly number[] {
  return banks.flatMap((bank, b) => {
    const told = all[b]!.seepage.stretches.filter(({ exitGradient }) => exitGradient !== null);
    return told.length < FEWEST ? [] : [rankCorrelation(told, (one) => trueGradient(bank, one))];
  });
}

/** How many stretches of a bank hold the true exit gradient in their 80 % interval, of how many. */
export function heldGradients(banks: readonly WorkedBank[], all: readonly JudgedBank[]) {
  return banks.map((bank, b) => {
    const known = all[b]!.seepage.stretches.filter(({ hydraulics }) => hydraulics !== null);
    const held = known.filter((one) => {
      const truth = trueGradient(bank, one);
      const { p10, p90 } = one.hydraulics!.exitGradient;
      return truth >= p10 && truth <= p90;
    });
    return { held: held.length, of: known.length };
  });
}

function trueGradient({ foundation, evidence: { survey } }: WorkedBank, at: JudgedStretch): number {
  const x = (at.from_m + at.to_m) / 2;
  const shape = survey.crossSectionAt(x);
  const height_m = shape.crestElevation_m! - shape.foundationElevation_m!;
  return blanketSeepage({
    head_m: survey.designWaterLevel_m! - foundation.ground_m(x),
    baseWidth_m: shape.crestWidth_m! + height_m * (shape.watersideSlope! + shape.landsideSlope!),
    blanketThickness_m: foundation.blanket_m(x),
    aquiferThickness_m: foundation.aquifer_m(x),
    blanketConductivity_m_per_s: foundation.blanket_m_per_s,
    aquiferConductivity_m_per_s: foundation.aquifer_m_per_s,
    watersideLength_m: foundation.watersideLength_m,
    landsideLength_m: foundation.landsideLength_m,
    landside: foundation.landside,
    saturatedUnitWeight_kN_per_m3: 18,
  }).exitGradient;
}

function rankCorrelation(
  stretches: readonly JudgedStretch[],
  truth: (one: JudgedStretch) => number,
): number {
  const ranked = (values: readonly number[]) =>
    values.map((value) => values.filter((other) => other < value).length);
  const one = ranked(stretches.map(({ exitGradient }) => exitGradient!.p50));
  const other = ranked(stretches.map(truth));
  const middle = (one.length - 1) / 2;
  const sum = (a: readonly number[], b: readonly number[]) =>
    a.reduce((total, value, i) => total + (value - middle) * (b[i]! - middle), 0);
  return sum(one, other) / Math.sqrt(sum(one, one) * sum(other, other));
}
