/** The seven blocks of the bank: how each stretch was made, from the crest down. */

export interface Layer {
  /** Depth of the layer's base below the crest; Infinity for the last. */
  readonly base_m: number;
  /** At 25 °C. */
  readonly resistivity_ohm_m: number;
  /** ISO 14688-1 letters. */
  readonly soil: string;
  readonly description: string;
  readonly fines_pct: number;
  readonly water_content_pct: number;
  readonly hydraulic_conductivity_m_per_s: number;
}

export interface Block {
  readonly name: string;
  readonly from_m: number;
  readonly to_m: number;
  /** Length over which it passes into the next block, centred on `to_m`. */
  readonly transition_m: number;
  readonly layers: readonly Layer[];
}

type SoilKey = keyof typeof SOILS;

/** Laboratory character of each soil: fines %, water content %, hydraulic conductivity m/s. */
const SOILS = {
  "silty clay": ["siCl", "silty CLAY, firm, brown", 82, 27, 4e-9],
  "soft silty clay": ["siCl", "silty CLAY, soft to firm, grey", 86, 33, 3e-9],
  "clayey silt": ["clSi", "clayey SILT, firm, grey-brown", 71, 23, 4e-8],
  "sandy silt": ["saSi", "sandy SILT, grey", 58, 21, 3e-7],
  clay: ["Cl", "CLAY, firm to stiff, blue-grey", 92, 31, 8e-10],
  "silty sand": ["siSa", "silty fine SAND, grey-brown", 24, 15, 6e-6],
  sand: ["Sa", "medium SAND, grey, wet", 7, 17, 1.2e-4],
  "gravelly sand": ["grSa", "gravelly SAND, brown, dense", 5, 8, 5e-4],
  "mixed fill": ["grsaSi", "gravelly sandy SILT with brick pieces, made ground", 38, 16, 4e-6],
  peat: ["Or", "PEAT, fibrous, dark brown", 64, 185, 2e-7],
} as const;

function layer(base_m: number, resistivity_ohm_m: number, key: SoilKey): Layer {
  const [soil, description, fines_pct, water_content_pct, conductivity] = SOILS[key];
  const hydraulic_conductivity_m_per_s = conductivity;
  const strength = { fines_pct, water_content_pct, hydraulic_conductivity_m_per_s };
  return { base_m, resistivity_ohm_m, soil, description, ...strength };
}

const REST = Number.POSITIVE_INFINITY;

export const BLOCKS: readonly Block[] = Object.freeze([
  {
    name: "silty clay fill",
    from_m: 0,
    to_m: 340,
    transition_m: 4,
    layers: [
      layer(0.3, 32, "sandy silt"),
      layer(1.6, 16, "silty clay"),
      layer(3.8, 20, "soft silty clay"),
      layer(6.8, 12, "clay"),
      layer(REST, 58, "silty sand"),
    ],
  },
  {
    name: "clayey silt fill",
    from_m: 340,
    to_m: 800,
    transition_m: 6,
    layers: [
      layer(0.3, 44, "sandy silt"),
      layer(1.8, 34, "clayey silt"),
      layer(3.8, 39, "clayey silt"),
      layer(6.0, 24, "silty clay"),
      layer(REST, 66, "silty sand"),
    ],
  },
  {
    name: "sandy fill with clay cap",
    from_m: 800,
    to_m: 1190,
    transition_m: 3,
    layers: [
      layer(0.7, 25, "silty clay"),
      layer(3.2, 98, "silty sand"),
      layer(3.8, 62, "silty sand"),
      layer(6.4, 30, "clayey silt"),
      layer(REST, 78, "sand"),
    ],
  },
  {
    name: "old clay core",
    from_m: 1190,
    to_m: 1490,
    transition_m: 2,
    layers: [
      layer(0.4, 30, "sandy silt"),
      layer(1.2, 27, "clayey silt"),
      layer(3.8, 13, "clay"),
      layer(6.8, 11, "clay"),
      layer(REST, 52, "silty sand"),
    ],
  },
  {
    name: "mixed repair stretch",
    from_m: 1490,
    to_m: 1670,
    transition_m: 5,
    layers: [
      layer(0.4, 66, "mixed fill"),
      layer(1.7, 58, "mixed fill"),
      layer(2.6, 40, "sandy silt"),
      layer(3.8, 28, "clayey silt"),
      layer(6.0, 18, "silty clay"),
      layer(REST, 55, "silty sand"),
    ],
  },
  {
    name: "clay over peat",
    from_m: 1670,
    to_m: 2080,
    transition_m: 4,
    layers: [
      layer(0.3, 29, "silty clay"),
      layer(2.2, 22, "silty clay"),
      layer(3.8, 17, "soft silty clay"),
      layer(5.2, 31, "peat"),
      layer(8.0, 12, "clay"),
      layer(REST, 60, "sand"),
    ],
  },
  {
    name: "gravelly sand fill",
    from_m: 2080,
    to_m: 2400,
    transition_m: 3,
    layers: [
      layer(0.3, 72, "sandy silt"),
      layer(2.4, 145, "gravelly sand"),
      layer(3.8, 92, "sand"),
      layer(6.0, 42, "sandy silt"),
      layer(REST, 82, "sand"),
    ],
  },
]);

/** A sand lens under a thin blanket, inside the clay over peat. */
export const LENS = Object.freeze({
  from_m: 1815,
  to_m: 1875,
  top_m: 1.3,
  base_m: 3.2,
  taper_m: 3,
  resistivity_ohm_m: 172,
  material: layer(3.2, 172, "sand"),
});

/** A stretch whose conductivity at 25 °C differs in the later campaign. */
export interface Change {
  readonly from_m: number;
  readonly to_m: number;
  readonly top_m: number;
  readonly base_m: number;
  /** Later over earlier conductivity at 25 °C. */
  readonly conductivityRatio: number;
  readonly taper_m: number;
  readonly reason: string;
}

export const CHANGES: readonly Change[] = Object.freeze([
  {
    from_m: 520,
    to_m: 570,
    top_m: 0.3,
    base_m: 1.8,
    conductivityRatio: 0.7,
    taper_m: 3,
    reason: "drier: a drain was dug along the landside shoulder in the winter",
  },
  {
    from_m: 1840,
    to_m: 1910,
    top_m: 0.3,
    base_m: 2,
    conductivityRatio: 1.38,
    taper_m: 3,
    reason: "wetter: seepage from the lens at high water wets the clay over and beside it",
  },
]);

/** What was dug in the winter between the campaigns: a trench of gravel, drained, along the bank. */
export const DRAIN = Object.freeze({
  from_m: 520,
  to_m: 570,
  /** Its middle, positive to the left; the landside shoulder. */
  offset_m: -2,
  width_m: 0.8,
  top_m: 0.3,
  base_m: 1.8,
  /** At 25 °C: between gravel that is dry and gravel that is full of water. */
  resistivity_ohm_m: 340,
  campaign: "2032-03",
});

/** The whole bank is slightly moister near the surface in spring. */
export const SPRING_MOISTURE = Object.freeze({ base_m: 0.5, conductivityRatio: 1.05 });
