import { checkSection } from "./section-check.js";
import { sectionGrid } from "./section-grid.js";
import {
  SECTION_RESPONSE_DEFAULTS,
  type SectionEarth,
  type SectionElectrode,
  type SectionResponseOptions,
  type SectionSpread,
  spreadPairs,
} from "./section-input.js";
import { electrodePotentials } from "./section-potentials.js";
import { wavenumbers } from "./wavenumbers.js";

export function sectionResponse(
  earth: SectionEarth,
  electrodes: readonly SectionElectrode[],
  spreads: readonly SectionSpread[],
  options: SectionResponseOptions = {},
): number[] {
  const used = { ...SECTION_RESPONSE_DEFAULTS, ...options };
  checkSection({ earth, electrodes, spreads, used });
  const potentials = electrodePotentials(
    sectionGrid(earth, electrodes, used.cellsPerSpacing),
    earth,
    wavenumbers(distanceRange(electrodes, used)),
  );
  return spreads.map((spread) => apparent(spread, electrodes, potentials));
}

function distanceRange(
  electrodes: readonly SectionElectrode[],
  { wavenumberStep }: Required<SectionResponseOptions>,
) {
  const x = electrodes.map((electrode) => electrode.x_m).sort((p, q) => p - q);
  const nearest_m = Math.min(...x.slice(1).map((value, i) => value - x[i]!));
  return { nearest_m, farthest_m: 3 * (x.at(-1)! - x[0]!), step: wavenumberStep };
}

function apparent(
  spread: SectionSpread,
  electrodes: readonly SectionElectrode[],
  potentials: Float64Array,
): number {
  let resistance = 0;
  let geometry = 0;
  for (const [current, potential, sign] of spreadPairs(spread)) {
    const [i, j] = [current! - 1, potential! - 1];
    resistance += sign! * potentials[i * electrodes.length + j]!;
    geometry += sign! / Math.abs(electrodes[i]!.x_m - electrodes[j]!.x_m);
  }
  return (2 * Math.PI * resistance) / geometry;
}
