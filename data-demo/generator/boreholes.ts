import { BLOCKS, type Layer, LENS } from "./blocks.js";
import { chance } from "./chance.js";
import { FACTS } from "./facts.js";
import { type Cell, fixed } from "./formats.js";

/** Six boreholes from the crest, their strata and laboratory values, and the recorded incidents. */

interface Hole {
  readonly borehole: string;
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly depth_m: number;
}

export const HOLES: readonly Hole[] = Object.freeze([
  { borehole: "BH1", chainage_m: 172, offset_m: 0.4, depth_m: 9 },
  { borehole: "BH2", chainage_m: 604, offset_m: -0.5, depth_m: 8 },
  { borehole: "BH3", chainage_m: 1012, offset_m: 0, depth_m: 9 },
  { borehole: "BH4", chainage_m: 1384, offset_m: 0.6, depth_m: 9 },
  { borehole: "BH5", chainage_m: 1848, offset_m: -0.3, depth_m: 10 },
  { borehole: "BH6", chainage_m: 2258, offset_m: 0.2, depth_m: 8 },
]);

export const BOREHOLE_HEADER = ["borehole", "chainage_m", "offset_m", "elevation_m", "depth_m"];

export function boreholeRows(): readonly (readonly Cell[])[] {
  const random = chance("borehole-levels");
  return HOLES.map((hole) => [
    hole.borehole,
    fixed(hole.chainage_m, 1),
    fixed(hole.offset_m, 1),
    fixed(FACTS.crestElevation_m + 0.03 * random.normal(), 2),
    fixed(hole.depth_m, 1),
  ]);
}

interface Bed {
  readonly top_m: number;
  readonly base_m: number;
  readonly layer: Layer;
}

/** The block's layers down to the hole's depth, with the lens where it is drilled. */
function bedsOf(hole: Hole): readonly Bed[] {
  const { layers } = BLOCKS.find((block) => hole.chainage_m < block.to_m)!;
  const beds: Bed[] = [];
  let top_m = 0;
  for (const layer of layers) {
    const base_m = Math.min(layer.base_m, hole.depth_m);
    if (base_m > top_m) beds.push({ top_m, base_m, layer });
    top_m = layer.base_m;
  }
  const inLens = hole.chainage_m > LENS.from_m && hole.chainage_m < LENS.to_m;
  return merged(inLens ? withLens(beds) : beds);
}

/** Neighbouring layers that a driller would log as one stratum. */
function merged(beds: readonly Bed[]): readonly Bed[] {
  const out: Bed[] = [];
  for (const bed of beds) {
    const last = out.at(-1);
    if (last && last.layer.description === bed.layer.description) {
      out[out.length - 1] = { ...last, base_m: bed.base_m };
    } else out.push(bed);
  }
  return out;
}

function withLens(beds: readonly Bed[]): readonly Bed[] {
  const { top_m, base_m, material } = LENS;
  const above = beds.filter((bed) => bed.top_m < top_m);
  const below = beds.filter((bed) => bed.base_m > base_m);
  return [
    ...above.map((bed) => ({ ...bed, base_m: Math.min(bed.base_m, top_m) })),
    { top_m, base_m, layer: material },
    ...below.map((bed) => ({ ...bed, top_m: Math.max(bed.top_m, base_m) })),
  ];
}

/** As logged: boundaries are read to 0.05 m, a few centimetres off. */
function loggedBeds(hole: Hole): readonly Bed[] {
  const random = chance(`log-${hole.borehole}`);
  const beds = bedsOf(hole);
  const bases = beds.map((bed, k) => {
    const off = k === beds.length - 1 ? 0 : 0.04 * random.normal();
    return Math.round((bed.base_m + off) * 20) / 20;
  });
  return beds.map((bed, k) => ({ ...bed, top_m: k === 0 ? 0 : bases[k - 1]!, base_m: bases[k]! }));
}

export const STRATA_HEADER = ["borehole", "top_m", "base_m", "soil", "description"];

export function strataRows(): readonly (readonly Cell[])[] {
  return HOLES.flatMap((hole) =>
    loggedBeds(hole).map(({ top_m, base_m, layer }) => [
      hole.borehole,
      fixed(top_m, 2),
      fixed(base_m, 2),
      layer.soil,
      layer.description,
    ]),
  );
}

export const LABORATORY_HEADER = [
  "borehole",
  "depth_m",
  "fines_pct",
  "water_content_pct",
  "hydraulic_conductivity_m_per_s",
  "resistivity_ohm_m",
];

/** One sample from the middle of each stratum down to 7 m; resistivity in the cell at 25 °C. */
export function laboratoryRows(): readonly (readonly Cell[])[] {
  return HOLES.flatMap((hole) => {
    const random = chance(`laboratory-${hole.borehole}`);
    return loggedBeds(hole)
      .filter((bed) => bed.top_m < 7 && bed.base_m - bed.top_m > 0.25)
      .map(({ top_m, base_m, layer }) => {
        const spread = (sd: number) => Math.exp(sd * random.normal());
        const permeability = layer.hydraulic_conductivity_m_per_s * spread(0.5);
        return [
          hole.borehole,
          fixed((top_m + Math.min(base_m, 7)) / 2, 2),
          fixed(Math.min(98, layer.fines_pct * spread(0.05)), 0),
          fixed(layer.water_content_pct * spread(0.06), 0),
          permeability.toExponential(1),
          fixed(meanResistivity(hole, top_m, base_m) * spread(0.08), 1),
        ];
      });
  });
}

/** Of the true layers at the sample's depth. */
function meanResistivity(hole: Hole, top_m: number, base_m: number): number {
  const depth_m = (top_m + Math.min(base_m, 7)) / 2;
  const { layers } = BLOCKS.find((block) => hole.chainage_m < block.to_m)!;
  const inLens = hole.chainage_m > LENS.from_m && hole.chainage_m < LENS.to_m;
  if (inLens && depth_m > LENS.top_m && depth_m < LENS.base_m) return LENS.resistivity_ohm_m;
  return layers.find((layer) => depth_m < layer.base_m)!.resistivity_ohm_m;
}

export const INCIDENT_HEADER = ["date", "chainage_m", "kind", "text"];

export const INCIDENTS: readonly (readonly Cell[])[] = [
  ["2027-02-19", "1858.0", "sand boil", "Small boil in the landside ditch at high water, ringed"],
  ["2029-08-03", "1118.0", "crack", "Lengthwise drying crack on the crest, 9 m long, filled"],
  ["2030-01-27", "1893.0", "wet patch", "Wet patch on the lower landside slope, clear water"],
];
