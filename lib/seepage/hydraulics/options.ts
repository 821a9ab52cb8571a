import { customOption, groupOption } from "../../step/options/kinds.js";
import { numberOption } from "../../step/options/number.js";

/** Lower and upper limit of what is not known. */
export type Range = readonly [number, number];

const range = (low: number, high: number, words: { unit: string; meaning: string }) =>
  customOption<Range>({
    default: Object.freeze([low, high] as const),
    rule: `two numbers, 0 < low ≤ high, ${words.unit}`,
    holds: (value) => Array.isArray(value) && value[0] > 0 && value[1] >= value[0],
    ...words,
  });

const m_per_s = "m/s";

/** Declared ranges of blanket theory, for what neither holes nor lines tell. */
export const hydraulicOptions = groupOption(
  {
    blanketThickness_m: range(0.8, 2.5, {
      unit: "m",
      meaning: "Thickness of the less pervious top stratum at the landside toe.",
    }),
    aquiferThickness_m: range(3, 12, {
      unit: "m",
      meaning: "Thickness of the pervious stratum under it.",
    }),
    blanketConductivity_m_per_s: range(1e-7, 5e-6, {
      unit: m_per_s,
      meaning: "Hydraulic conductivity of the top stratum.",
    }),
    aquiferConductivity_m_per_s: range(5e-5, 1e-3, {
      unit: m_per_s,
      meaning: "Hydraulic conductivity of the pervious stratum.",
    }),
    riverside_m: range(10, 100, {
      unit: "m",
      meaning: "Blanket between the waterside toe and the river's open bed.",
    }),
    landside_m: range(50, 300, {
      unit: "m",
      meaning: "Blanket landward of the toe until it is cut or ends open.",
    }),
    saturatedUnitWeight_kN_per_m3: range(16, 20, {
      unit: "kN/m³",
      meaning: "Saturated unit weight of the top stratum.",
    }),
    d70_m: range(1.5e-4, 4e-4, {
      unit: "m",
      meaning: "Grain diameter of the pervious stratum that 70 % of its mass is finer than.",
    }),
    correlation_m: numberOption({
      default: 60,
      above: 0,
      unit: "m",
      meaning: "Distance over which thicknesses beside each other are alike.",
    }),
    draws: numberOption({ default: 1000, from: 200, whole: true, meaning: "Draws." }),
    toldFrom: numberOption({
      default: 0.5,
      above: 0,
      below: 1,
      meaning:
        "Share of the differences along the bank that the data must explain at a stretch before a " +
        "gradient of its own is given; 0.5 is a correlation of 0.7 with the truth.",
    }),
  },
  { meaning: "Ranges for blanket theory, drawn evenly on a log scale within their limits." },
);

/** The ranges, resolved. */
export type HydraulicOptions = typeof hydraulicOptions.default;
