import type { TemperatureProfile } from "../../earth/temperature-profile.js";
import type { Basis, Caution } from "../../step/step-account.js";
import type { SoilTemperatures } from "./soil-temperature-types.js";

export function summaryOf({ campaigns, depths_m, wave }: SoilTemperatures): string {
  const known = campaigns.filter(({ method }) => method !== "none");
  if (known.length === 0)
    return "No soil temperature is near the readings; nothing is brought to 25 °C by it.";
  const season =
    wave === null
      ? "The measurements do not determine an annual wave."
      : `The soil swings about ${wave.mean_degC.toFixed(1)} °C by ${wave.amplitude_degC.toFixed(1)} °C at the surface and by 1/e of that at ${wave.damping_m.toFixed(1)} m.`;
  const at = known.map(({ campaign, temperature_degC, factorTo25: factors }) => {
    const k = depths_m.indexOf(1);
    return `${campaign} ${temperature_degC[k]!.toFixed(1)} °C (conductivity × ${factors[k]!.toFixed(2)} to 25 °C)`;
  });
  return `${season} At 1 m depth: ${at.join(", ")}.`;
}

export function basisOf({ wave }: SoilTemperatures): readonly Basis[] {
  return [
    {
      statement:
        wave === null
          ? "Temperatures are interpolated in depth between those measured nearest in time, up to 45 days off."
          : "A damped annual wave, as heat conduction has it, is fitted to all soil temperatures by least squares.",
      source:
        wave === null
          ? "common practice"
          : "Carslaw & Jaeger 1959, Conduction of Heat in Solids, 2.6",
    },
    {
      statement: "Conductivity goes to 25 °C by the factor 0.4470 + 1.4034 exp(−T/26.815).",
      source: "Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005",
    },
  ];
}

export function cautionsOf(
  { campaigns, depths_m }: SoilTemperatures,
  profiles: readonly (TemperatureProfile | null)[],
): readonly Caution[] {
  const texts = campaigns.flatMap(({ campaign, method, factorTo25: factors }, i) => {
    const profile = profiles[i] ?? null;
    if (method === "none" || profile === null) {
      return [
        `${campaign}: no soil temperature within reach of its date; its conductivities keep the field's temperature.`,
      ];
    }
    const out: string[] = [];
    if (factors.some(Number.isNaN))
      out.push(
        `${campaign}: the soil is taken to be frozen at some depth, where the factor has no meaning.`,
      );
    if (profile.nearest_days > 45)
      out.push(
        `${campaign}: the nearest soil temperature is ${Math.round(profile.nearest_days)} days off its date; the wave alone speaks.`,
      );
    return out;
  });
  const deepest = Math.max(...profiles.map((profile) => profile?.measuredTo_m ?? 0));
  if (deepest > 0 && deepest < depths_m.at(-1)!) {
    texts.push(`Below ${deepest} m no temperature was measured; there it is extrapolated.`);
  }
  return texts.map((text) => ({ step: "soilTemperature", text }));
}
