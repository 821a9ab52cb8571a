import { type CampaignLabel, FACTS } from "./facts.js";

/** The electrode lines: where they run and which spreads were measured. */

export interface ElectrodeLine {
  readonly line: string;
  readonly runs: "along" | "across";
  /** Whose days it was measured on. */
  readonly campaign: CampaignLabel;
  /** Chainage and offset of x = 0; x goes up along the chainage, or to the left across. */
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly electrodes: number;
  readonly spacing_m: number;
  /** Of the ground that is made, to an electrode spacing. */
  readonly cellsPerSpacing: number;
  /** Electrodes that stood in dry gravel or loose turf. */
  readonly badContacts: readonly number[];
  readonly spreads: readonly Spread[];
}

export interface Spread {
  readonly a: number;
  readonly b: number;
  readonly m: number;
  readonly n: number;
}

/** Current outside, potential inside, equal thirds. */
function wenner(count: number, levels: readonly number[]): readonly Spread[] {
  return levels.flatMap((k) =>
    Array.from({ length: count - 3 * k }, (_, i) => {
      return { a: i + 1, b: i + 1 + 3 * k, m: i + 1 + k, n: i + 1 + 2 * k };
    }),
  );
}

/** Current and potential pairs of one spacing, n spacings apart. */
function dipoleDipole(count: number, levels: readonly number[], stride: number): readonly Spread[] {
  return levels.flatMap((level) =>
    Array.from({ length: Math.ceil((count - 2 - level) / stride) }, (_, i) => {
      const first = i * stride + 1;
      return { a: first + 1, b: first, m: first + 1 + level, n: first + 2 + level };
    }),
  );
}

export const ELECTRODE_LINES: readonly ElectrodeLine[] = Object.freeze([
  {
    line: "R1",
    runs: "along",
    campaign: "2031-10",
    chainage_m: 1801,
    offset_m: 0,
    electrodes: 72,
    spacing_m: 1.25,
    cellsPerSpacing: 2,
    badContacts: [17, 54],
    spreads: [...wenner(72, [1, 2, 3, 4, 6, 8, 11]), ...dipoleDipole(72, [1, 2, 3, 4], 2)],
  },
  {
    line: "R2",
    runs: "along",
    campaign: "2031-10",
    chainage_m: 1143,
    offset_m: 0,
    electrodes: 48,
    spacing_m: 2,
    cellsPerSpacing: 2,
    badContacts: [9],
    spreads: [...wenner(48, [1, 2, 3, 4, 5, 6, 8, 10]), ...dipoleDipole(48, [1, 2, 3, 4], 1)],
  },
  {
    line: "R3",
    runs: "across",
    campaign: "2031-10",
    chainage_m: 1845,
    offset_m: -17.25,
    electrodes: 48,
    spacing_m: 0.75,
    cellsPerSpacing: 2,
    badContacts: [31],
    spreads: [...wenner(48, [1, 2, 3, 4, 5, 6, 8, 10]), ...dipoleDipole(48, [1, 2, 3, 4], 1)],
  },
  {
    line: "R4",
    runs: "across",
    campaign: "2032-03",
    chainage_m: 545,
    offset_m: -9.5,
    electrodes: 34,
    spacing_m: 0.5,
    cellsPerSpacing: 4,
    badContacts: [6],
    spreads: [...wenner(34, [1, 2, 3, 4, 5, 6, 8, 10]), ...dipoleDipole(34, [1, 2, 3, 4], 1)],
  },
]);

export function electrodeX_m(line: ElectrodeLine): readonly number[] {
  return Array.from({ length: line.electrodes }, (_, k) => k * line.spacing_m);
}

/** Elevation of the bank's outline at an offset, positive to the left, the waterside. */
export function surfaceElevation_m(offset_m: number): number {
  const slope = offset_m > 0 ? FACTS.watersideSlope : FACTS.landsideSlope;
  const down = Math.max(0, Math.abs(offset_m) - FACTS.crestWidth_m / 2) / slope;
  return Math.max(FACTS.foundationElevation_m, FACTS.crestElevation_m - down);
}

/** Elevation at a place on a line. */
export function lineElevation_m(line: ElectrodeLine, x_m: number): number {
  return surfaceElevation_m(line.runs === "across" ? line.offset_m + x_m : line.offset_m);
}
