import { geometricFactor } from "../../earth/spread.js";
import type { Random } from "../../numerics/random.js";
import type { ResistivityLine } from "../../survey/resistivity-line.js";
import { positionsOf, type SectionSpread } from "../section-input.js";
import type { LineLayout } from "./layout.js";
import type { PlanLineOptions } from "./options.js";

/** A line as it would be read from the field, its stacking deviations being the noise's. */
export function trialLine(
  { electrodes }: LineLayout,
  measured: {
    readonly spreads: readonly SectionSpread[];
    /** Without noise, ohm-m. */
    readonly apparent_ohm_m: readonly number[];
  },
  { used, random }: { readonly used: PlanLineOptions; readonly random: Random },
): ResistivityLine {
  const { noise, current_mA, voltageNoise_mV } = used;
  const readings = measured.spreads.map((spread, i) => {
    const ohm = measured.apparent_ohm_m[i]! / geometricFactor(positionsOf(spread, electrodes));
    const sd_mV = Math.hypot(noise * current_mA * ohm, voltageNoise_mV);
    const voltage_mV = current_mA * ohm + sd_mV * random.normal();
    const deviation_pct = (100 * sd_mV) / Math.abs(current_mA * ohm);
    const source = { row: i + 2, repeat: null, campaign: null };
    return { ...spread, ...source, current_mA, voltage_mV, deviation_pct };
  });
  return {
    ...{ line: "plan", runs: "along", chainage_m: 0, offset_m: 0, readings },
    electrodes: electrodes.map((place, i) => ({ electrode: i + 1, ...place })),
  };
}
