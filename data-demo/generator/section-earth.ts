import { DRAIN } from "./blocks.js";
import { CAMPAIGNS, FACTS } from "./facts.js";
import { makeGrain } from "./grain.js";
import type { Ground } from "./ground.js";
import { type ElectrodeLine, lineElevation_m } from "./resistivity-lines.js";
import { RIVER_OHM_M, riverStage_m } from "./waters.js";

/** The ground below an electrode line as the cells that the forward model takes. */

export interface SectionCells {
  readonly x_m: readonly number[];
  readonly depth_m: readonly number[];
  /** Rows by depth, at field temperature. */
  readonly resistivity_ohm_m: readonly (readonly number[])[];
}

/** The river where it stands on the slope of a line across. */
export interface SectionRiver {
  readonly level_m: number;
  readonly from_m: number;
  readonly bed: readonly { readonly x_m: number; readonly elevation_m: number }[];
  readonly resistivity_ohm_m: number;
}

/** Depth edges below the surface, m; they meet the layers of the blocks that the lines cross. */
const DEPTHS_M: readonly number[] = [
  0, 0.2, 0.4, 0.7, 1, 1.3, 1.7, 2.2, 2.7, 3.2, 3.8, 4.5, 5.2, 6.4, 8, 11,
];
/** On the slopes and beyond the toes lies a cover of at least this thickness. */
const SLOPE_COVER_M = 0.6;

export function sectionEarth(ground: Ground, line: ElectrodeLine): SectionCells {
  const length_m = (line.electrodes - 1) * line.spacing_m;
  const cell_m = line.spacing_m / line.cellsPerSpacing;
  const margin = Math.ceil(5 / cell_m);
  const count = Math.round(length_m / cell_m) + 2 * margin;
  const x_m = Array.from({ length: count + 1 }, (_, k) => (k - margin) * cell_m);
  const at = line.runs === "along" ? alongAt(ground, line) : acrossAt(ground, line);
  const resistivity_ohm_m = DEPTHS_M.slice(1).map((base, row) => {
    const depth_m = (DEPTHS_M[row]! + base) / 2;
    return x_m.slice(1).map((right) => at(right - cell_m / 2, depth_m));
  });
  return { x_m, depth_m: DEPTHS_M, resistivity_ohm_m };
}

type CellValue = (x_m: number, depth_m: number) => number;

function alongAt(ground: Ground, line: ElectrodeLine): CellValue {
  return (x_m, depth_m) => ground.resistivity(line.chainage_m + x_m, depth_m, line.campaign);
}

/** Layers lie level under the slopes, so what matters is the depth below the crest's level. */
function acrossAt(ground: Ground, line: ElectrodeLine): CellValue {
  const grain = makeGrain("grain-across");
  const { campaign } = line;
  return (x_m, depth_m) => {
    const belowCrest_m = FACTS.crestElevation_m - lineElevation_m(line, x_m) + depth_m;
    const level_m = depth_m < SLOPE_COVER_M ? depth_m : belowCrest_m;
    const made = isDrain(line, x_m, depth_m)
      ? DRAIN.resistivity_ohm_m
      : ground.resistivity25(line.chainage_m, level_m, campaign);
    return made * Math.exp(grain(x_m, level_m)) * ground.coldness(depth_m, campaign);
  };
}

function isDrain({ campaign, chainage_m, offset_m }: ElectrodeLine, x_m: number, depth_m: number) {
  const { from_m, to_m, width_m, top_m, base_m } = DRAIN;
  const isThere = campaign === DRAIN.campaign && chainage_m >= from_m && chainage_m <= to_m;
  const isBeside = Math.abs(offset_m + x_m - DRAIN.offset_m) > width_m / 2;
  return isThere && !isBeside && depth_m >= top_m && depth_m < base_m;
}

/** The river beside a line on its days; null along the bank and where it stands below the slope. */
export function riverBeside(line: ElectrodeLine): SectionRiver | null {
  const day = CAMPAIGNS.find(({ label }) => label === line.campaign)!;
  const level_m = riverStage_m(Date.parse(day.start));
  if (line.runs === "along" || !(level_m > FACTS.foundationElevation_m)) return null;
  const { crestWidth_m, crestElevation_m, foundationElevation_m, watersideSlope } = FACTS;
  const foot_m = crestWidth_m / 2 + (crestElevation_m - foundationElevation_m) * watersideSlope;
  const foot = { x_m: foot_m - line.offset_m, elevation_m: foundationElevation_m };
  return { level_m, from_m: -line.offset_m, bed: [foot], resistivity_ohm_m: RIVER_OHM_M };
}
